// Keeps the ticks of the anvil and what came, by bar, in this browser. The pages turn by plain links without it.
import { read, write } from "./keep.js";

const heats = document.getElementById("heats");
const units = heats.dataset.units, place = `anvil-${heats.dataset.bar}`;
let kept = read(place, {});
const toldOf = (key) => kept[key] ?? {};
const keyOf = (node) => node.closest("[data-key]").dataset.key;

// What was typed in the other unit is not shown in a field of this one.
const typed = (told) => (told.units && told.units !== units ? undefined : told.came);

// Two windows may be open: what the other wrote since stays, but for this one heat.
function change(key, what) {
  kept = read(place, kept);
  kept[key] = { ...toldOf(key), ...what };
  write(place, kept);
  show();
}

function show() {
  for (const heat of heats.querySelectorAll("[data-key]")) {
    const told = toldOf(heat.dataset.key);
    const tick = heat.querySelector("[data-tick]");
    tick.classList.toggle("ticked", Boolean(told.done));
    tick.querySelector(".done-words").textContent = told.done ? "Done; next" : "Done";
    heat.querySelector("[data-untick]").hidden = !told.done;
    const came = heat.querySelector("[data-came]");
    if (came && came !== document.activeElement) came.value = typed(told) ?? came.defaultValue;
  }
  for (const row of heats.querySelectorAll("[data-of]")) {
    const told = toldOf(row.dataset.of);
    row.classList.toggle("ticked", Boolean(told.done));
    row.querySelector(".did").textContent = typed(told) || (told.done ? "done" : "");
  }
}

heats.addEventListener("click", (event) => {
  const pressed = event.target.closest("[data-tick], [data-untick], [data-clear]");
  if (pressed?.matches("[data-clear]")) {
    if (!confirm("Clear all ticks and what came?")) return;
    localStorage.removeItem(place);
    kept = {};
    show();
  } else if (pressed) change(keyOf(pressed), { done: pressed.matches("[data-tick]") });
});
heats.addEventListener("input", (event) => {
  if (event.target.matches("[data-came]")) change(keyOf(event.target), { came: event.target.value, units });
});
// The keypad's own key for "done" keeps what was typed; the plan is asked for by its button alone.
heats.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || !event.target.matches("[data-came]")) return;
  event.preventDefault();
  event.target.blur();
});
addEventListener("storage", () => {
  kept = read(place, {});
  show();
});

for (const node of document.querySelectorAll(".by-script, [data-clear]")) node.hidden = false;
show();
if (!location.hash) {
  const next = [...heats.querySelectorAll("[data-key]")].find((heat) => !toldOf(heat.dataset.key).done);
  location.replace(`#${next ? next.id : "all"}`);
}
