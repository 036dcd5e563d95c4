// The search for a bar: tells how far it is, and stops it. Without this the form is sent as any other.
const main = document.querySelector("main");
let search = null;

function show(words) {
  document.getElementById("far").textContent = words;
}

function far(told) {
  if (told.chosen) return `Sized ${told.sized}, forged ${told.forged}, planned ${told.planned} of ${told.chosen}`;
  return told.sized ? `Sized ${told.sized}, forged ${told.forged}` : "Sizing all ways";
}

function heard(line) {
  const told = JSON.parse(line);
  if (told.far) show(far(told.far));
  else if (told.page) put(told.page);
  else show(told.refused ?? told.detail);
}

function put(html) {
  const page = new DOMParser().parseFromString(html, "text/html");
  main.replaceChildren(...page.querySelector("main").childNodes);
  listen();
  const found = main.querySelector("#proposals, .fault");
  if (found) { found.tabIndex = -1; found.focus(); }
}

async function read(answer) {
  const text = answer.body.pipeThrough(new TextDecoderStream()).getReader();
  let left = "";
  for (let part = await text.read(); !part.done; part = await text.read()) {
    const lines = (left + part.value).split("\n");
    left = lines.pop();
    lines.forEach(heard);
  }
  if (left) heard(left);
}

async function ask(form, body) {
  const stop = form.querySelector("[data-stop]");
  search = new AbortController();
  stop.hidden = false;
  show("Waiting for a place");
  try {
    await read(await fetch(form.dataset.progress, { method: "POST", headers: { accept: "application/json" }, body, signal: search.signal }));
  } catch {
    show(search.signal.aborted ? "Stopped." : "The answer did not come; press again.");
  } finally {
    search = null;
    stop.hidden = true;
  }
}

function listen() {
  const form = document.getElementById("wish-form");
  form.querySelector("[data-stop]").addEventListener("click", () => search?.abort());
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    if (!search) ask(form, new URLSearchParams(new FormData(form, event.submitter)));
  });
}

listen();
