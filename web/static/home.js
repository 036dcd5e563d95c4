// My bars: what this browser keeps, with picture, date, copy, take out, and all of it as one file.
import { bars, coded } from "./keep.js";

const place = document.getElementById("my-bars");
const list = place.querySelector("ol");

// The drawing of a bar; its hatches must not answer to the names of another's.
function picture(text, number) {
  const own = text.replaceAll("picture-of-my-bar", `mine-${number}`);
  const svg = new DOMParser().parseFromString(own, "text/html").body.firstElementChild;
  const sound = svg?.localName === "svg" && !svg.querySelector("script, foreignObject, image, use, a, style, [style]");
  return sound ? document.importNode(svg, true) : "";
}

function row(bar, number) {
  const item = document.getElementById("my-bar").content.cloneNode(true).firstElementChild;
  const face = new Image(340);
  face.className = "face";
  face.loading = "lazy";
  face.alt = "";
  const r = coded(bar.address);
  if (!bar.draft) face.src = `face.png?${new URLSearchParams({ r, view: "first", width: 600 })}`;
  face.addEventListener("error", () => face.remove());
  item.querySelector(".picture").append(face, picture(bar.picture, number));
  const link = item.querySelector("a");
  link.href += `${link.href.includes("?") ? "&" : "?"}r=${r}`; // in the units of this page
  link.textContent = bar.title;
  link.addEventListener("click", (event) => {
    bars.work(bar.id, bar.address);
    if (!bar.draft) return;
    event.preventDefault();
    bars.post(bar.id, bar.draft, link.href.includes("units=inch") ? "inch" : "mm");
  });
  item.querySelector(".told").textContent = bar.told.join("; ");
  item.querySelector("time").dateTime = bar.at;
  item.querySelector("time").textContent = new Date(bar.at).toLocaleString();
  for (const [name, act] of [["copy", () => bars.copy(bar.id)], ["remove", () => bars.remove(bar.id)]]) {
    const button = item.querySelector(`[data-do=${name}]`);
    button.setAttribute("aria-label", `${button.textContent}: ${bar.title}`);
    button.addEventListener("click", () => { act(); show(); });
  }
  return item;
}

function show() {
  list.replaceChildren(...bars.all().map(row));
  place.querySelector(".none").hidden = list.children.length > 0;
}

function save() {
  const file = new Blob([JSON.stringify({ format: 1, bars: bars.all() })], { type: "application/json" });
  const link = Object.assign(document.createElement("a"), { href: URL.createObjectURL(file), download: "my-bars.json" });
  link.click();
  URL.revokeObjectURL(link.href);
}

async function open(file) {
  const said = place.querySelector("[role=status]");
  try {
    const told = JSON.parse(await file.text());
    const words = (b) => [b.id, b.title, b.at, b.address, b.picture].every((text) => typeof text === "string");
    const sound = told.bars.filter((b) => words(b) && Array.isArray(b.told) && b.address.startsWith("?"));
    const here = new Set(bars.all().map((b) => b.id));
    bars.put([...bars.all(), ...sound.filter((b) => !here.has(b.id))]);
    said.textContent = `${sound.length} of ${told.bars.length} bars are here now.`;
  } catch {
    said.textContent = "This file holds no bars.";
  }
  show();
}

place.hidden = false;
place.querySelector("[data-do=export]").addEventListener("click", save);
place.querySelector("input[type=file]").addEventListener("change", (event) => {
  if (event.target.files[0]) open(event.target.files[0]);
});
show();
