// The search for a bar: tells how far it is, and stops it. Without this the form is sent as any other.
import { Idiomorph } from "./vendor/idiomorph/idiomorph.esm.js";

const main = document.querySelector("main"), form = document.getElementById("wish-form");
const stop = document.getElementById("stop");
const show = (words) => { document.getElementById("far").textContent = words; };
let search = null;

function heard(line) {
  const told = JSON.parse(line);
  if (told.page) put(told.page); else show(told.words ?? told.refused ?? told.detail);
}

function put(html) {
  const page = new DOMParser().parseFromString(html, "text/html");
  Idiomorph.morph(main, page.querySelector("main").childNodes, { morphStyle: "innerHTML", ignoreActiveValue: true });
  const found = main.querySelector("#proposals, .fault");
  found?.focus({ preventScroll: true });
  found?.scrollIntoView(); // from its beginning
}

async function read(answer) {
  const text = answer.body.pipeThrough(new TextDecoderStream()).getReader();
  let left = "", part;
  while (!(part = await text.read()).done) {
    const lines = (left + part.value).split("\n");
    left = lines.pop();
    lines.forEach(heard);
  }
  if (left) heard(left);
}

form.addEventListener("submit", async (event) => {
  event.preventDefault();
  if (search) return;
  const body = new URLSearchParams(new FormData(form, event.submitter)), headers = { accept: "application/json" };
  search = new AbortController();
  stop.hidden = false;
  show("Waiting for a place");
  try {
    await read(await fetch(form.dataset.progress, { method: "POST", headers, body, signal: search.signal }));
  } catch {
    show(search.signal.aborted ? "Stopped." : "The answer did not come; press again.");
  }
  search = null;
  stop.hidden = true;
});
stop.addEventListener("click", () => search?.abort());
