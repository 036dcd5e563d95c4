// The bench while it is worked on: sends the form after the last key, puts in what came back, keeps it.
import { Trail } from "./trail.js";
import { bars, shop } from "./keep.js";
import { chosen } from "./chosen.js";

const WAIT_MS = 250;
const ANSWER = ["fixed", "answer"]; // the parts that stay as they were while no bar can be made
const root = document.querySelector("main");
const bench = () => document.getElementById("bench");
const here = () => location.pathname + location.search;
const left = new Set();
let trail = new Trail();
let timer = 0, asked = 0, touched = false, flight = null;
let due = false; // something was typed that is not asked for yet: no answer is put in
let owed = null; // what a button asked for and has not come: asked for anew with what is typed meanwhile
let typing = null; // the field that the hand is on, once it typed there

const state = () => new URLSearchParams(new FormData(bench())).toString();
const parsed = (html) => new DOMParser().parseFromString(html, "text/html");

// What this tab keeps of the bench when the page is left, for a page that comes back.
function leave() {
  const answer = document.getElementById("why") && ANSWER.map((id) => document.getElementById(id).innerHTML);
  const kept = { at: here(), state: state(), answer };
  try {
    sessionStorage.setItem("bench", JSON.stringify({ ...kept, trail }));
  } catch { // more than a browser takes
    sessionStorage.setItem("bench", JSON.stringify(kept));
  }
}

// Everything a field, a button or an undo leads to: the server answers with the bench as it now is.
async function ask(body, put, action = "") {
  const mine = ++asked;
  flight?.abort(); // the server need not finish what is asked anew
  flight = new AbortController();
  owed = put === replace ? { action, elsewhere: body === state() ? "" : body } : null;
  bench().classList.add("waiting");
  bench().setAttribute("aria-busy", "true");
  try {
    const sent = new URLSearchParams(body);
    sent.set("action", action || "check");
    sent.set("chosen", chosen.step);
    const answer = await fetch(bench().dataset.preview, { method: "POST", body: sent, signal: flight.signal });
    const text = await answer.text();
    if (mine !== asked || due) return;
    if (!answer.ok) throw new Error(answer.statusText);
    owed = null;
    put(parsed(text).getElementById("bench"), action);
    if (action) trail.note(state()); else trail.settle(state());
    after();
  } catch {
    if (mine !== asked) return;
    if (action) owed = null;
    const next = action ? "press again." : "it is asked for again with the next key.";
    tell(`The answer did not come; ${next}`);
  } finally {
    if (mine === asked && !due) {
      bench().classList.remove("waiting");
      bench().removeAttribute("aria-busy");
    }
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
  const drawn = document.getElementById("chosen"), other = fresh.querySelector("#chosen");
  if (good && drawn?.dataset.step !== other.dataset.step) {
    if (drawn) drawn.replaceWith(other); else document.getElementById("found").after(other);
  }
  for (const part of fresh.querySelectorAll("[data-live], [data-answer]")) {
    if (part.hasAttribute("data-answer") && !good) continue;
    const there = document.getElementById(part.id);
    if (there?.innerHTML !== part.innerHTML) there?.replaceChildren(...part.childNodes);
  }
  for (const part of fresh.querySelectorAll("input[type=hidden]")) {
    const there = old.elements.namedItem(part.name);
    if (there) there.value = part.value;
  }
  const standing = new Map([...old.querySelectorAll("[data-field]")].map((part) => [keyOf(part), part]));
  for (const part of fresh.querySelectorAll("[data-field]")) {
    const key = keyOf(part), there = standing.get(key);
    if (!there) continue;
    if (there.contains(now)) {
      const untouched = now !== typing || now.localName === "select";
      if (untouched && now.type !== "checkbox") now.value = textOf(part) ?? now.value;
      if (!part.querySelector(".fault")) soothe(there);
    } else {
      if (!left.has(key.replace("at-", ""))) soothe(part);
      if (there.outerHTML !== part.outerHTML || textOf(there) !== textOf(part)) there.replaceWith(part);
    }
  }
  for (const key of ["address", "link", "title", "draft", "good"]) {
    if (key in fresh.dataset) old.dataset[key] = fresh.dataset[key]; else delete old.dataset[key];
  }
}

const keyOf = (part) => part.dataset.field || part.querySelector("[name]").name;
const textOf = (part) => part.querySelector("select, input")?.value;

function soothe(part) {
  part.classList.remove("field-bad");
  part.querySelector(".fault")?.remove();
  part.querySelector("[aria-invalid]")?.removeAttribute("aria-invalid");
}

// After a button: the whole bench is new; what was open stays open, the hand where it was, the last good answer too.
function replace(fresh, action) {
  const old = bench(), now = document.activeElement, cards = old.querySelectorAll(".card").length;
  const open = [...old.querySelectorAll("details[open][id]")].map((d) => d.id);
  if (!("good" in fresh.dataset)) {
    for (const id of ANSWER) fresh.querySelector(`#${id}`).replaceWith(old.querySelector(`#${id}`));
    // of a bar that was: its steps may lie elsewhere now
    for (const part of fresh.querySelectorAll("[data-for]")) part.disabled = true;
  }
  const same = (f) => nameOf(f) === nameOf(now) && !f.name === !now.name && f.value === now.value.replace(",", ".");
  const there = old.contains(now) && nameOf(now) ? [...fresh.elements].find(same) : null;
  const at = typing === now && now.type === "text" ? now.selectionEnd : null;
  old.replaceWith(fresh);
  const shut = /_step|move_|again/.test(action) ? /^gap-|step-/ : /^gap-/; // steps lie elsewhere now
  for (const id of open) if (!shut.test(id)) document.getElementById(id)?.setAttribute("open", "");
  there?.focus();
  if (there && at !== null) {
    there.setSelectionRange(at, at);
    typing = there;
  } else if (fresh.querySelectorAll(".card").length > cards) {
    document.getElementById(fresh.dataset.anchor)?.querySelector("input[type=text]")?.focus(); // of the new step
  }
}

// Puts texts into the fields of the form; false where these are others than the texts belong to.
function set(to) {
  const texts = new URLSearchParams(to), form = bench().elements;
  const fields = [...form].filter((f) => f.name && f.localName !== "button");
  const kind = /\.(do|what|as|layout|arrange)$/;
  const other = (f) => !texts.has(f.name) || (kind.test(f.name) && f.value !== texts.get(f.name));
  if (fields.some((f) => f.type !== "checkbox" && other(f))) return false;
  if ([...texts.keys()].some((name) => !form.namedItem(name))) return false;
  for (const f of fields) {
    if (f.type === "checkbox") f.checked = texts.has(f.name); else f.value = texts.get(f.name);
  }
  return state() === to;
}

function after() {
  const form = bench(), good = "good" in form.dataset;
  form.classList.add("live");
  form.classList.toggle("stale", !good);
  chosen.show();
  for (const button of form.querySelectorAll("[data-do=undo]")) button.disabled = !trail.back;
  for (const button of form.querySelectorAll("[data-do=redo]")) button.disabled = !trail.forth;
  const wrong = document.getElementById("wrong"), told = [...wrong.querySelectorAll("[data-to]")];
  wrong.classList.toggle("calm", told.length > 0 && !told.some((a) => known(a.dataset.to)));
  if (touched) {
    history.replaceState(history.state, "", form.dataset.address);
    const units = document.querySelector(".units"), mm = form.dataset.address.replace("&units=inch", "");
    if (units) units.href = mm === form.dataset.address ? `${mm}&units=inch` : mm;
    shop.keep(form);
    if (good && !bars.renew(form)) {
      tell("This browser can keep no more bars: take some out of My bars, or save this one as a file.");
    }
  }
}

// A fault is shown red only once its field was left.
const known = (where) => left.has(where) || nameOf(document.activeElement) !== where;

function changed() {
  touched = true;
  if (owed?.elsewhere) owed = null; // what is typed goes on from what is seen
  later();
}

function later() {
  clearTimeout(timer);
  due = true;
  bench().classList.add("waiting");
  timer = setTimeout(() => {
    due = false;
    trail.note(state());
    if (owed) ask(owed.elsewhere || state(), replace, owed.action); else ask(state(), merge);
  }, WAIT_MS);
}

function travel(to) {
  if (!to) return;
  clearTimeout(timer);
  due = false;
  touched = true;
  typing = null;
  if (set(to)) ask(to, merge); else ask(to, replace);
}

async function press(button) {
  const action = button.value, said = button.dataset.do;
  if (said === "undo") return travel(trail.undo(state()));
  if (said === "redo") return travel(trail.redo());
  if (said === "copy") {
    await navigator.clipboard?.writeText(new URL(bench().dataset.link || bench().dataset.address, location.href).href);
    button.textContent = "Copied";
    return;
  }
  if (said === "keep") {
    bars.another(bench());
    button.textContent = "Kept under My bars";
    return;
  }
  clearTimeout(timer);
  due = false;
  touched = true;
  trail.note(state());
  await ask(state(), replace, action);
}

const nameOf = (field) => field?.name || field?.dataset?.for;

root.addEventListener("input", (event) => {
  if (!nameOf(event.target)) return;
  typing = event.target;
  chosen.mirror(typing);
  changed();
});
root.addEventListener("focusin", (event) => { if (chosen.look(event.target)) later(); });
root.addEventListener("focusout", (event) => {
  const name = nameOf(event.target);
  typing = null;
  if (name && touched) { left.add(name); if (!("good" in bench().dataset)) changed(); }
});
root.addEventListener("click", (event) => {
  const to = event.target.closest("[data-to]"), button = event.target.closest("button");
  if (to) {
    const inside = `[name^="${CSS.escape(to.dataset.to)}"]:not([type=hidden])`;
    const field = document.getElementById(to.dataset.to) ?? bench().querySelector(inside);
    if (!field) return;
    event.preventDefault();
    for (let d = field.closest("details"); d; d = d.parentElement.closest("details")) d.open = true;
    field.focus();
  } else if (button && owed?.action) {
    event.preventDefault(); // the button before it comes first
  } else if (button && (button.dataset.do || (button.name === "action" && !["plan", "sheet"].includes(button.value)))) {
    event.preventDefault();
    press(button);
  }
});
document.querySelector(".units")?.addEventListener("click", (event) => {
  if (!("draft" in bench().dataset)) return;
  event.preventDefault();
  bars.post(bars.id(), bench().dataset.draft, bench().elements.units.value === "inch" ? "mm" : "inch");
});
document.addEventListener("keydown", (event) => {
  if (!(event.ctrlKey || event.metaKey) || event.altKey) return;
  const key = event.key.toLowerCase(), again = key === "y" || (key === "z" && event.shiftKey);
  if (key !== "z" && !again) return;
  event.preventDefault();
  travel(again ? trail.redo() : trail.undo(state()));
});

// What was typed and not yet answered when the page was left comes back with it, and so does the way to undo it.
function begin() {
  if (!bench()) return;
  const kept = JSON.parse(sessionStorage.getItem("bench") ?? "null"), same = kept?.at === here();
  const back = same && performance.getEntriesByType("navigation")[0]?.type !== "navigate";
  if (back) trail = new Trail(kept.trail);
  bars.arrive(location.search, back, "draft" in bench().dataset);
  const mine = shop.fill(bench());
  if (!back || !trail.back) trail.note(state());
  if (!("good" in bench().dataset) && same && kept.answer) {
    ANSWER.forEach((id, i) => document.getElementById(id).replaceChildren(...parsed(kept.answer[i]).body.childNodes));
  }
  if (back && kept.state !== state()) {
    trail.note(kept.state);
    travel(kept.state);
  } else if (mine) ask(state(), replace);
  after();
  for (const end of ["pagehide", "visibilitychange"]) addEventListener(end, leave);
}
begin();
