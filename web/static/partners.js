// My fire and my oils, kept in this browser by the design page, stand in the fields where nothing was told.
import { shop } from "./keep.js";

const { fire, half_width_k: off, oil } = document.querySelector("main form").elements, kept = shop.told();
const asked = new URLSearchParams(location.search);
const told = (row) => kept[`mine.oils[${row}].nickel_ball_s`] || kept[`mine.oils[${row}].class`];

// Where the question was asked already, an empty field is meant.
if (!["fire", "oil", "half_width_k", "mine"].some((name) => asked.has(name))) {
  fire.value = kept["mine.fire"] ?? "";
  if (!fire.value) off.value = kept["mine.half_width_k"] ?? "";
  oil.value = Object.keys(kept).map((_, row) => told(row)).filter(Boolean).join(", ");
  document.getElementById("mine-told").hidden = !(fire.value || off.value || oil.value);
}
