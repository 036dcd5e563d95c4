// Keeps the ticks of the anvil and what came, by bar, in this browser. The pages turn by plain links without it.
import { read, write } from "./keep.js";

const heats = document.getElementById("heats"), { units, bar } = heats.dataset, place = `anvil-${bar}`;
let kept = {};

function keep(told) {
  kept = told;
  write(place, kept);
  show();
}

// Two windows may be open: what the other wrote since stays, but for this one heat.
function change(inside, what) {
  const { key } = inside.closest("[data-key]").dataset, all = read(place, kept);
  keep({ ...all, [key]: { ...all[key], ...what } });
}

function show() {
  kept = read(place, kept);
  for (const node of heats.querySelectorAll("[data-key], [data-of]")) {
    const { done, came, units: its = units } = kept[node.dataset.key ?? node.dataset.of] ?? {};
    const typed = its === units ? came : undefined; // what was typed in the other unit is not shown in this one
    const field = node.querySelector("[data-came]"), did = node.querySelector(".did");
    (node.querySelector("[data-tick]") ?? node).classList.toggle("ticked", Boolean(done));
    if (field && field !== document.activeElement) field.value = typed ?? field.defaultValue;
    if (did) did.textContent = typed || (done ? "done" : "");
  }
}

heats.addEventListener("click", ({ target }) => {
  const pressed = target.closest("[data-tick], [data-untick]");
  if (pressed) change(pressed, { done: pressed.matches("[data-tick]") });
  else if (target.matches("[data-clear]") && confirm("Clear all ticks and what came?")) keep({});
});
heats.addEventListener("input", ({ target }) => {
  if (target.matches("[data-came]")) change(target, { came: target.value, units });
});
// The keypad's own key for "done" keeps what was typed; the plan is asked for by its button alone.
heats.addEventListener("keydown", (event) => {
  if (event.key !== "Enter" || !event.target.matches("[data-came]")) return;
  event.preventDefault();
  event.target.blur();
});
addEventListener("storage", show);
show();
for (const node of heats.querySelectorAll(".by-script, [data-clear]")) node.hidden = false;
if (!location.hash) {
  const next = [...heats.querySelectorAll("[data-key]")].find(({ dataset }) => !kept[dataset.key]?.done);
  location.replace(`#${next ? next.id : "all"}`);
}
