// The bench while it is worked on: sends the form after the last key, has the answer put in, keeps it.
import { bars, made, read, shop, write } from "./keep.js";
import { chosen } from "./chosen.js";
import { mirror, nameOf, put } from "./put.js";
import { Trail } from "./trail.js";

const WAIT_MS = 250;
const ANSWER = ["fixed", "answer"]; // what is kept of the last good answer
const LEAD_AWAY = ["plan", "sheet"];
const KIND = /\.(do|what|as|layout|arrange)$/; // fields that tell which others there are
const bench = document.getElementById("bench"), units = document.querySelector(".units");
const left = new Set(); // the names of the fields that were left
let trail = new Trail();
let touched = false;
let typing = null; // the field that the hand is on, once it typed there
let timer = 0; // runs while something typed is not asked for yet: no answer is put in
let flight = null; // what is asked for now
let owed = ""; // the button whose answer has not come: asked for anew with what is typed meanwhile
let ahead = ""; // what an undo leads to, until its answer comes with other fields than are seen

const here = () => location.pathname + location.search;
const good = () => "good" in bench.dataset;
const seen = () => new URLSearchParams(new FormData(bench)).toString();
const held = () => ahead || seen();
const wait = (on) => bench.setAttribute("aria-busy", bench.classList.toggle("waiting", on));
const tell = (words) => document.getElementById("wrong").replaceChildren(made("p", { textContent: words }));

// Everything a field, a button or an undo leads to: the server answers with the bench as it now is.
async function ask(body, action = "") {
  clearTimeout(timer);
  timer = 0;
  flight?.abort(); // the server need not finish what is asked anew
  const mine = flight = new AbortController();
  owed = action;
  ahead = body === seen() ? "" : body;
  wait(true);
  const sent = new URLSearchParams(body);
  sent.set("action", action || "check");
  sent.set("chosen", chosen.step);
  let html = "";
  try {
    const answer = await fetch(bench.dataset.preview, { method: "POST", body: sent, signal: mine.signal });
    html = await answer.text();
    if (!answer.ok) throw new Error(answer.statusText);
  } catch {
    if (mine === flight) missed(action || ahead);
    return;
  }
  if (mine !== flight || timer) return;
  flight = null;
  owed = ahead = "";
  wait(false);
  put(html, action, typing, left);
  if (action) trail.note(seen()); else trail.settle(seen());
  after();
}

function missed(pressed) {
  flight = null;
  owed = "";
  tell(`The answer did not come; ${pressed ? "press again." : "it is asked for again with the next key."}`);
  if (!timer) wait(false);
}

function after() {
  bench.classList.add("live");
  bench.classList.toggle("stale", !good());
  for (const button of bench.querySelectorAll("[data-do=undo]")) button.disabled = !trail.back;
  for (const button of bench.querySelectorAll("[data-do=redo]")) button.disabled = !trail.forth;
  if (!touched) return;
  const { address } = bench.dataset, mm = address.replace("&units=inch", "");
  history.replaceState(history.state, "", address);
  units.href = mm === address ? `${mm}&units=inch` : mm;
  shop.keep(bench);
  if (good() && !bars.renew(bench)) {
    tell("This browser can keep no more bars: take some out of My bars, or save this one as a file.");
  }
}

function later() {
  clearTimeout(timer);
  wait(true);
  timer = setTimeout(() => {
    trail.note(held());
    ask(held(), owed);
  }, WAIT_MS);
}

function changed() {
  touched = true;
  ahead = ""; // what is typed goes on from what is seen
  later();
}

// A change that was undone is seen at once where it has the fields that are seen; else they come with the answer.
function travel(to) {
  if (!to) return;
  const told = new URLSearchParams(to), before = new URLSearchParams(seen());
  const fields = [...bench.elements].filter(({ name }) => told.has(name) || before.has(name));
  const fill = (texts) => fields.forEach((field) => {
    if (field.type === "checkbox") field.checked = texts.has(field.name); else field.value = texts.get(field.name);
  });
  if (fields.every(({ name }) => !KIND.test(name) || told.get(name) === before.get(name))) fill(told);
  if (seen() !== to) fill(before);
  touched = true;
  typing = null;
  ask(to);
}

const DO = {
  // A button whose answer has not come is what is undone first; nothing is done again while it is on its way.
  undo() {
    if (ahead && !flight) return travel(ahead); // what was undone before, whose answer did not come
    if (owed) trail.note(seen());
    travel(owed ? seen() : trail.undo(held()));
  },
  redo() { if (!owed) travel(trail.redo()); },
  async copy(button) {
    try { // browsers let it be copied only from this machine or over TLS
      await navigator.clipboard.writeText(new URL(bench.dataset.link || bench.dataset.address, location.href).href);
      button.textContent = "Copied";
    } catch {
      button.textContent = "Not copied: take it from the address line";
    }
  },
  keep(button) {
    const kept = bars.renew(bench, null); // as a bar of its own from here on
    button.textContent = kept ? "Kept under My bars" : "Not kept: My bars is full";
  },
};

// From a fault to the field that it is about.
function lead(place) {
  const part = document.getElementById(place), field = part?.querySelector("input[type=text], select") ?? part;
  for (let shut = field?.closest("details"); shut; shut = shut.parentElement.closest("details")) shut.open = true;
  field?.focus();
}

bench.addEventListener("input", ({ target }) => {
  const name = nameOf(target);
  if (!name) return;
  typing = target;
  // a dimension writes into the field of the card, and the other way round
  const twin = target.name ? document.getElementById(`at-${name}`) : bench.elements.namedItem(name);
  if (twin) twin.value = target.value;
  changed();
});
bench.addEventListener("focusin", ({ target }) => { if (chosen.look(target)) later(); });
bench.addEventListener("focusout", ({ target }) => {
  typing = null;
  if (!nameOf(target) || !touched) return;
  left.add(nameOf(target));
  if (!good()) changed();
});
bench.addEventListener("click", (event) => {
  const link = event.target.closest("[data-to]"), button = event.target.closest("[data-do], [name=action]");
  if (!link && (!button || (!owed && LEAD_AWAY.includes(button.value)))) return;
  event.preventDefault();
  if (link) return lead(link.dataset.to);
  if (button.dataset.do) return DO[button.dataset.do](button);
  if (owed) return; // the button before it comes first
  touched = true;
  trail.note(seen());
  ask(seen(), button.value);
});
units.addEventListener("click", (event) => {
  if (!("draft" in bench.dataset)) return;
  event.preventDefault();
  bars.post(bars.id(), bench.dataset.draft, bench.elements.units.value === "inch" ? "mm" : "inch");
});
document.addEventListener("keydown", (event) => {
  const key = event.key.toLowerCase();
  if (!(event.ctrlKey || event.metaKey) || event.altKey || (key !== "z" && key !== "y")) return;
  event.preventDefault();
  if (key === "y" || event.shiftKey) DO.redo(); else DO.undo();
});

// What this tab keeps of the bench when the page is left, for a page that comes back.
function leave() {
  const answer = document.getElementById("why") && // there is none before the first bar that could be made
    ANSWER.map((id) => document.getElementById(id).innerHTML);
  const kept = { at: here(), state: held(), answer };
  if (!write("bench", { ...kept, trail }, "sessionStorage")) write("bench", kept, "sessionStorage");
}
for (const end of ["pagehide", "visibilitychange"]) addEventListener(end, leave);
addEventListener("pageshow", ({ persisted }) => { if (persisted) bars.again(); });

// What was typed and not yet answered when the page was left comes back with it, and so does the way to undo it.
const kept = read("bench", null, "sessionStorage"), same = kept?.at === here();
const back = same && performance.getEntriesByType("navigation")[0]?.type !== "navigate";
if (back) trail = new Trail(kept.trail);
bars.arrive(location.search, back, "draft" in bench.dataset);
const mine = shop.fill(bench);
if (!back || !trail.back) trail.note(seen());
if (!good() && same && kept.answer) {
  ANSWER.forEach((id, i) => { document.getElementById(id).innerHTML = kept.answer[i]; });
  mirror();
}
if (back && kept.state !== seen()) {
  trail.note(kept.state);
  travel(kept.state);
} else if (mine) ask(seen());
after();
