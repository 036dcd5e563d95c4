// Puts in the bench that the server answered with, around the hand that works on it.
import { Idiomorph } from "./vendor/idiomorph/idiomorph.esm.js";

const bench = document.getElementById("bench");
const cards = () => bench.querySelectorAll(".card").length;
export const nameOf = (field) => field?.name || field?.dataset?.for;

// `action` is the button that was pressed, empty after a key or an undo; `typing` the field that is typed in;
// `left` the names of the fields that were left.
export function put(html, action, typing, left) {
  const page = new DOMParser().parseFromString(html, "text/html"), fresh = page.getElementById("bench");
  const good = "good" in fresh.dataset, before = cards();
  keepTyped(page, action, typing);
  if (!action) holdFaultsBack(fresh, typing, left);
  keepOpen(page, action);
  // while no bar can be made the last good answer stays; after a button its drawings lie at other steps
  const stays = action ? "#fixed, #answer" : "#answer, [data-answer]";
  Idiomorph.morph(bench, fresh, { callbacks: { beforeNodeMorphed: (part) => good || !part.matches?.(stays) } });
  if (action && !good) for (const field of bench.querySelectorAll("[data-for]")) field.disabled = true;
  if (cards() > before && document.activeElement !== typing) {
    document.getElementById(bench.dataset.anchor)?.querySelector("input[type=text]")?.focus(); // of the new step
  }
}

// The text stays as it is typed; but after a button the field may be that of another step, and is let go.
function keepTyped(page, action, typing) {
  const now = document.activeElement, next = page.getElementById(now.id);
  if (action && now.type === "text" && next?.value !== now.value.replace(",", ".")) now.blur();
  else if (now === typing && now.type === "text") next?.setAttribute("value", now.value);
}

// A fault is shown once its field was left, and then until it is put right.
function holdFaultsBack(fresh, typing, left) {
  for (const field of fresh.querySelectorAll("[aria-invalid]")) {
    const there = document.getElementById(field.id), part = field.closest(".field");
    if (there?.hasAttribute("aria-invalid") || (left.has(nameOf(field)) && there !== typing)) continue;
    field.removeAttribute("aria-invalid");
    part.classList.remove("field-bad");
    part.querySelector(".fault").remove();
  }
}

// What the hand opened stays open, but for the list of steps to put in; after some buttons steps lie elsewhere.
function keepOpen(page, action) {
  const shut = /_step|move_|again/.test(action) ? /^gap-|step-/ : /^gap-/;
  for (const part of bench.querySelectorAll("details[id]")) {
    const other = page.getElementById(part.id);
    if (other) other.open = action ? other.open || (part.open && !shut.test(part.id)) : part.open;
  }
}
