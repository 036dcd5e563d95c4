// Puts in the bench that the server answered with, around the hand that works on it.
import { Idiomorph } from "./vendor/idiomorph/idiomorph.esm.js";

const bench = document.getElementById("bench");
const cards = () => bench.querySelectorAll(".card").length;
// The name of a field, or, of a dimension beside the drawing, of the field in the card that it writes into.
export const nameOf = (field) => field?.name || field?.dataset?.for;

// `action` is the button that was pressed, empty after a key or an undo; `typing` the field that is typed in;
// `left` the names of the fields that were left.
export function put(html, action, typing, left) {
  const page = new DOMParser().parseFromString(html, "text/html"), fresh = page.getElementById("bench");
  const good = "good" in fresh.dataset, before = cards(), now = document.activeElement;
  if (!action) holdFaultsBack(fresh, typing, left);
  // after a button the field may be that of another step, and is let go
  else if (now.type === "text" && page.getElementById(now.id)?.value !== now.value.replace(",", ".")) now.blur();
  // while no bar can be made the last good answer stays; after a button its drawings lie at other steps
  const stays = action ? "#fixed, #answer" : "#answer, [data-answer]";
  // what the hand opened stays open, but for the list of steps to put in, and for steps that lie elsewhere now
  const shut = /_step|move_|again/.test(action) ? /^gap-|step-/ : /^gap-/;
  const mayTurn = (part, change) => action !== "" && (change === "update" || shut.test(part.id));
  Idiomorph.morph(bench, fresh, {
    ignoreActiveValue: !action && now === typing,
    callbacks: {
      beforeNodeMorphed: (part) => good || !part.matches?.(stays),
      beforeAttributeUpdated: (name, part, change) => name !== "open" || mayTurn(part, change),
    },
  });
  if (!good) mirror(action !== "");
  const part = document.getElementById(bench.dataset.anchor);
  if (cards() > before && document.activeElement !== typing) {
    part?.querySelector("input[type=text]")?.focus(); // of the new step
  } else if (now.name === "action" && (!now.isConnected || now.closest("details:not([open])"))) {
    part?.querySelector("summary")?.focus(); // the button went with its step, or was shut away
  }
}

// The fields of a drawing that stays tell what the cards tell; where it lies at other steps they are shut.
export function mirror(elsewhere = false) {
  for (const field of bench.querySelectorAll("[data-for]:enabled")) {
    const twin = bench.elements.namedItem(field.dataset.for);
    if (elsewhere || !twin) field.disabled = true;
    else if (field !== document.activeElement) field.value = twin.value;
  }
}

// A fault is shown once its field was left, and then until it is put right; while the hand types, no new one elsewhere.
function holdFaultsBack(fresh, typing, left) {
  for (const field of fresh.querySelectorAll(".field [aria-invalid]")) {
    const there = document.getElementById(field.id), part = field.closest(".field");
    const known = !typing || (left.has(nameOf(field)) && there !== typing);
    if (known || there?.hasAttribute("aria-invalid")) continue;
    field.removeAttribute("aria-invalid");
    part.classList.remove("field-bad");
    part.querySelector(".fault")?.remove();
  }
}
