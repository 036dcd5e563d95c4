// The bench while it is worked on: sends the form after the last key, puts in what came back, keeps it.
import { Trail } from "./trail.js";
import { bars, shop } from "./keep.js";

const WAIT_MS = 250;
const root = document.querySelector("main");
const bench = () => document.getElementById("bench");
const trail = new Trail();
const left = new Set();
let timer = 0, asked = 0, touched = false, due = false;

// The last good answer of this tab, for a page that comes back with something half typed.
const last = {
  note() { sessionStorage.setItem("answer", JSON.stringify(["fixed", "answer"].map((id) => document.getElementById(id).innerHTML))); },
  show() {
    const kept = JSON.parse(sessionStorage.getItem("answer") ?? "null");
    if (kept && sessionStorage.getItem("answered") === location.search) ["fixed", "answer"].forEach((id, i) => { const part = new DOMParser().parseFromString(kept[i], "text/html"); document.getElementById(id).replaceChildren(...part.body.childNodes); });
  },
};

const state = () => new URLSearchParams(new FormData(bench())).toString();

// Everything a field, a button or an undo leads to: the server answers with the bench as it now is.
async function ask(body, put, action = "") {
  const mine = ++asked;
  bench().classList.add("waiting");
  bench().setAttribute("aria-busy", "true");
  try {
    const sent = new URLSearchParams(body);
    sent.set("action", action || "check");
    const answer = await fetch(bench().dataset.preview, { method: "POST", body: sent });
    if (mine !== asked || (due && put === merge)) return;
    if (!answer.ok) throw new Error(answer.statusText);
    const page = new DOMParser().parseFromString(await answer.text(), "text/html");
    put(page.getElementById("bench"));
    if (!action) trail.settle(state());
    after();
  } catch {
    if (mine === asked) tell("The answer did not come; it is asked for again with the next key.");
  } finally {
    if (mine === asked && !due) { bench().classList.remove("waiting"); bench().removeAttribute("aria-busy"); }
  }
}

function tell(words) {
  const p = document.createElement("p");
  p.textContent = words;
  document.getElementById("wrong").replaceChildren(p);
}

// After a key: only what the server reckons is renewed, nothing that the hand is on.
function merge(fresh) {
  const old = bench(), good = "good" in fresh.dataset, now = document.activeElement;
  for (const part of fresh.querySelectorAll("[data-live], [data-answer]")) {
    if (part.hasAttribute("data-answer") && !good) continue;
    const there = document.getElementById(part.id);
    if (there?.innerHTML !== part.innerHTML) there?.replaceChildren(...part.childNodes);
  }
  for (const part of fresh.querySelectorAll("input[type=hidden]")) {
    const there = old.elements.namedItem(part.name);
    if (there) there.value = part.value;
  }
  for (const part of fresh.querySelectorAll("[data-field]")) {
    const there = old.querySelector(`[data-field="${CSS.escape(part.dataset.field)}"]`);
    if (there?.contains(now) && now.localName === "select") now.value = part.querySelector("select")?.value ?? now.value;
    if (!there || there.contains(now)) { if (there && !part.querySelector(".fault")) soothe(there); continue; }
    if (!left.has(part.dataset.field)) soothe(part);
    if (there.outerHTML !== part.outerHTML || there.querySelector("input")?.value !== part.querySelector("input")?.value) there.replaceWith(part);
  }
  for (const key of ["address", "link", "title"]) old.dataset[key] = fresh.dataset[key];
  old.toggleAttribute("data-good", good);
}

function soothe(part) {
  part.classList.remove("field-bad");
  part.querySelector(".fault")?.remove();
  part.querySelector("[aria-invalid]")?.removeAttribute("aria-invalid");
}

// After a button: the whole bench is new; what was open stays open, the last good answer stays.
function replace(fresh) {
  const old = bench();
  const open = [...old.querySelectorAll("details[open][id]")].map((d) => d.id);
  if (!("good" in fresh.dataset)) {
    for (const id of ["fixed", "answer"]) fresh.querySelector(`#${id}`).replaceWith(old.querySelector(`#${id}`));
  }
  old.replaceWith(fresh);
  for (const id of open) if (!id.startsWith("gap-")) document.getElementById(id)?.setAttribute("open", "");
}

function after() {
  const form = bench(), good = "good" in form.dataset;
  form.classList.toggle("stale", !good);
  for (const part of form.querySelectorAll(".by-script, .kept")) part.hidden = false;
  for (const button of form.querySelectorAll("[data-do=undo]")) button.disabled = !trail.back;
  for (const button of form.querySelectorAll("[data-do=redo]")) button.disabled = !trail.forth;
  const wrong = document.getElementById("wrong");
  const waits = wrong.querySelector("[data-to]") && ![...wrong.querySelectorAll("[data-to]")].some((a) => known(a.dataset.to));
  wrong.classList.toggle("calm", Boolean(waits));
  if (touched) {
    history.replaceState(history.state, "", form.dataset.address);
    const units = document.querySelector(".units");
    if (units) units.href = form.dataset.address.includes("units=inch") ? form.dataset.address.replace(/&units=inch/, "") : `${form.dataset.address}&units=inch`;
    shop.keep(form);
    if (good) bars.renew(form);
  }
  if (good) last.note();
  sessionStorage.setItem("answered", location.search);
  sessionStorage.setItem("bench", JSON.stringify({ at: location.pathname + location.search, state: state() }));
}

// A fault is shown red only once its field was left.
const known = (where) => left.has(where) || document.activeElement?.name !== where;

function changed() {
  clearTimeout(timer); due = false;
  touched = true;
  bench().classList.add("waiting");
  sessionStorage.setItem("bench", JSON.stringify({ at: location.pathname + location.search, state: state() }));
  due = true; // an answer to what stood before would put it back
  timer = setTimeout(() => { due = false; trail.note(state()); ask(state(), merge); }, WAIT_MS);
}

function travel(to) {
  if (!to) return;
  touched = true;
  ask(to, replace);
}

async function press(button) {
  const action = button.value, said = button.dataset.do;
  if (said === "undo") return travel(trail.undo(state()));
  if (said === "redo") return travel(trail.redo());
  if (said === "copy") { await navigator.clipboard?.writeText(new URL(bench().dataset.link || bench().dataset.address, location.href).href); button.textContent = "Copied"; return; }
  if (said === "keep") { bars.another(bench()); button.textContent = "Kept under My bars"; return; }
  touched = true;
  trail.note(state());
  const before = document.querySelectorAll(".card").length;
  await ask(state(), replace, action);
  trail.note(state());
  if (document.querySelectorAll(".card").length > before && /^(add_step|again|copy_step)/.test(action)) {
    const at = Number(action.split(/[:.]/).pop());
    document.getElementById(`step-${action.startsWith("copy") ? at + 2 : at + 1}`)?.querySelector("input[type=text]")?.focus();
  }
}

root.addEventListener("input", (event) => { if (event.target.name) changed(); });
root.addEventListener("focusout", (event) => { if (event.target.name && touched) { left.add(event.target.name); if (!("good" in bench().dataset)) changed(); } });
root.addEventListener("click", (event) => {
  const to = event.target.closest("[data-to]"), button = event.target.closest("button");
  if (to) {
    const field = document.getElementById(to.dataset.to) ?? bench().querySelector(`[name^="${CSS.escape(to.dataset.to)}"]:not([type=hidden])`);
    if (!field) return;
    event.preventDefault();
    for (let d = field.closest("details"); d; d = d.parentElement.closest("details")) d.open = true;
    field.focus();
  } else if (button && (button.dataset.do || (button.name === "action" && !["plan", "sheet"].includes(button.value)))) {
    event.preventDefault();
    press(button);
  }
});
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase(), again = key === "y" || (key === "z" && event.shiftKey);
  if (key !== "z" && !again) return;
  event.preventDefault();
  travel(again ? trail.redo() : trail.undo(state()));
});

// What was typed and not yet answered when the page was left comes back with it.
function begin() {
  if (!bench()) return;
  const kept = JSON.parse(sessionStorage.getItem("bench") ?? "null");
  bars.arrive(location.search);
  const mine = shop.fill(bench());
  trail.note(state());
  if (!("good" in bench().dataset)) last.show();
  if (kept && kept.at === location.pathname + location.search && kept.state !== state() && performance.getEntriesByType("navigation")[0]?.type !== "navigate") travel(kept.state);
  else if (mine) ask(state(), replace);
  after();
}
begin();
