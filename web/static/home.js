// My bars: what this browser keeps, with picture, date, copy, take out, and all of it as one file.
import { bars } from "./keep.js";

const place = document.getElementById("my-bars");
const list = place.querySelector("ol");

function picture(text) {
  const svg = new DOMParser().parseFromString(text, "text/html").body.firstElementChild;
  return svg?.localName === "svg" && !svg.querySelector("script, foreignObject, image, use, a, style, [style]") ? document.importNode(svg, true) : "";
}

function row(bar, number) {
  const item = document.getElementById("my-bar").content.cloneNode(true).firstElementChild;
  const face = new Image(340);
  face.className = "face";
  face.loading = "lazy";
  face.alt = "";
  if (!bar.draft) face.src = `face.png?${new URLSearchParams({ r: new URLSearchParams(bar.address).get("r") ?? "", view: "first", width: 600 })}`;
  face.addEventListener("error", () => face.remove());
  item.querySelector(".picture").append(face);
  const svg = picture(bar.picture);
  if (svg) {
    // hatches of two pictures must not answer to one name
    for (const part of svg.querySelectorAll("[id]")) part.id = `mine-${number}-${part.id}`;
    for (const name of ["fill", "clip-path"]) {
      for (const part of svg.querySelectorAll(`[${name}^='url(#']`)) part.setAttribute(name, part.getAttribute(name).replace("#", `#mine-${number}-`));
    }
    svg.setAttribute("aria-labelledby", (svg.getAttribute("aria-labelledby") ?? "").split(" ").map((id) => `mine-${number}-${id}`).join(" "));
    item.querySelector(".picture").append(svg);
  }
  const link = item.querySelector("a");
  link.href += `${link.href.includes("?") ? "&" : "?"}r=${new URLSearchParams(bar.address).get("r") ?? ""}`; // in the units of this page
  link.textContent = bar.title;
  link.addEventListener("click", (event) => {
    bars.work(bar.id, bar.address, Boolean(bar.draft));
    if (!bar.draft) return;
    event.preventDefault();
    const form = document.getElementById("open-bar");
    form.elements.recipe.value = bar.draft;
    form.submit();
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
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([JSON.stringify({ format: 1, bars: bars.all() })], { type: "application/json" }));
  link.download = "my-bars.json";
  link.click();
  URL.revokeObjectURL(link.href);
}

async function open(file) {
  const said = place.querySelector("[role=status]");
  try {
    const told = JSON.parse(await file.text());
    const sound = told.bars.filter((b) => [b.id, b.title, b.at, b.address, b.picture].every((t) => typeof t === "string") && Array.isArray(b.told) && b.address.startsWith("?"));
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
place.querySelector("input[type=file]").addEventListener("change", (event) => { if (event.target.files[0]) open(event.target.files[0]); });
show();
