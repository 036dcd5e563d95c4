// My fire and my oils, kept in this browser by the design page, stand in the fields where nothing was told.
import { shop } from "./keep.js";

const form = document.querySelector("main form"), kept = shop.told();
const field = (name) => form.elements.namedItem(name);
const asked = new URLSearchParams(location.search);

function oils() {
  const rows = {};
  for (const [name, value] of Object.entries(kept)) {
    const [, row, key] = name.match(/^mine\.oils\[(\d+)\]\.(\w+)$/) ?? [];
    if (row) (rows[row] ??= {})[key] = value;
  }
  return Object.values(rows).map((oil) => oil.nickel_ball_s || oil.class).filter(Boolean).join(", ");
}

// Where the question was asked already, an empty field is meant.
if (![...asked.keys()].some((name) => ["fire", "oil", "half_width_k", "mine"].includes(name))) {
  if (kept["mine.fire"]) field("fire").value = kept["mine.fire"];
  else field("half_width_k").value = kept["mine.half_width_k"] ?? "";
  field("oil").value = oils();
  document.getElementById("mine-told").hidden = !(field("fire").value || field("half_width_k").value || field("oil").value);
}
