// My bars: what this browser keeps, with picture, date, copy, take out, and all of it as one file.
import { bars, coded, made } from "./keep.js";

const place = document.getElementById("my-bars"), list = place.querySelector("ol");
const template = document.getElementById("my-bar"), said = place.querySelector("[role=status]");
const FULL = "This browser can keep no more bars: take some out first.";

// The drawing of a bar; its hatches must not answer to the names of another's.
function picture(text, number) {
  const own = text.replaceAll("picture-of-my-bar", `mine-${number}`);
  const svg = new DOMParser().parseFromString(own, "text/html").body.firstElementChild;
  const sound = svg?.localName === "svg" && !svg.querySelector("script, foreignObject, image, use, a, style, [style]");
  const acts = (part) => part.getAttributeNames().some((name) => name.startsWith("on"));
  return sound && ![svg, ...svg.querySelectorAll("*")].some(acts) ? document.importNode(svg, true) : "";
}

function row(bar, number) {
  const item = document.importNode(template.content, true).firstElementChild;
  const link = item.querySelector("a"), time = item.querySelector("time"), r = coded(bar.address);
  const face = made("img", { className: "face", width: 340, loading: "lazy", alt: "" });
  item.dataset.id = bar.id;
  link.href += `${link.search ? "&" : "?"}r=${r}`; // in the units of this page
  link.textContent = bar.title;
  item.querySelector(".told").textContent = bar.told.join("; ");
  time.dateTime = bar.at;
  time.textContent = new Date(bar.at).toLocaleString();
  for (const button of item.querySelectorAll("button")) button.ariaLabel = `${button.textContent}: ${bar.title}`;
  if (!bar.draft) face.src = `face.png?${new URLSearchParams({ r, view: "first", width: 600 })}`;
  face.addEventListener("error", () => face.remove());
  item.querySelector(".picture").append(bar.draft ? "" : face, picture(bar.picture, number));
  return item;
}

const show = () => list.replaceChildren(...bars.all().map(row));

function save() {
  const file = new Blob([JSON.stringify({ format: 1, bars: bars.all() })], { type: "application/json" });
  const link = made("a", { href: URL.createObjectURL(file), download: "my-bars.json" });
  link.click();
  URL.revokeObjectURL(link.href);
}

async function open(file) {
  try {
    const told = JSON.parse(await file.text()).bars, TEXTS = ["id", "title", "at", "address", "picture"];
    const words = (bar) => TEXTS.every((key) => typeof bar[key] === "string") && Array.isArray(bar.told);
    const sound = told.filter((bar) => words(bar) && bar.address.startsWith("?"));
    const here = new Set(bars.all().map((bar) => bar.id));
    const put = bars.put([...bars.all(), ...sound.filter((bar) => !here.has(bar.id))]);
    said.textContent = put ? `${sound.length} of ${told.length} bars are here now.` : FULL;
  } catch {
    said.textContent = "This file holds no bars.";
  }
  show();
}

list.addEventListener("click", (event) => {
  const bar = bars.all().find(({ id }) => id === event.target.closest("li")?.dataset.id);
  const act = event.target.closest("button")?.dataset.do, link = event.target.closest("a");
  if (act) {
    said.textContent = bars[act](bar.id) ? "" : FULL; // copy or remove
    show();
  } else if (link) {
    bars.work(bar.id, bar.address);
    if (!bar.draft) return;
    event.preventDefault();
    bars.post(bar.id, bar.draft, link.href.includes("units=inch") ? "inch" : "mm");
  }
});
place.querySelector("[data-do=export]").addEventListener("click", save);
place.querySelector("input[type=file]").addEventListener("change", ({ target }) => {
  if (target.files[0]) open(target.files[0]);
  target.value = ""; // so that the same file can be opened again
});
addEventListener("storage", show); // another window changed them
addEventListener("pageshow", show); // and a page that comes back shows what was changed since
place.hidden = false;
