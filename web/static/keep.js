// What this browser keeps: my bars, each with its picture, and my fire and oil. Nothing leaves it.
const BARS = "billet.bars", SHOP = "billet.shop", NOW = "billet.now", MOST = 200;
const TAB = "sessionStorage"; // what one tab keeps; the rest is kept for all of them

export function read(key, otherwise, store = "localStorage") {
  try { return JSON.parse(window[store].getItem(key)) ?? otherwise; } catch { return otherwise; }
}

export function write(key, value, store = "localStorage") {
  try { window[store].setItem(key, JSON.stringify(value)); return true; } catch { return false; }
}

export const made = (tag, told) => Object.assign(document.createElement(tag), told);
export const coded = (address) => new URLSearchParams(address).get("r") ?? "";
const fresh = () => ({ id: crypto.randomUUID?.() ?? String(Date.now()), at: new Date().toISOString() });

function card(form) {
  const { title, draft, address } = form.dataset;
  const told = [...form.querySelectorAll("#fixed .told")].map((part) => part.textContent.trim());
  const picture = form.querySelector("#picture")?.content.querySelector("svg")?.outerHTML ?? "";
  // a bar too long for a link has no address; what the form holds is kept instead
  const query = draft ? "?" : address.slice(address.indexOf("?"));
  return { ...fresh(), title: title || "A bar", address: query, draft, told, picture };
}

let now = null; // the bar that this page works on

export const bars = {
  id: () => now?.id,
  all: () => read(BARS, []).filter((bar) => typeof bar?.address === "string" && bar.address.startsWith("?")),
  put: (list) => list.length <= MOST && write(BARS, list),
  remove: (id) => bars.put(bars.all().filter((bar) => bar.id !== id)),
  // The bar that is being worked on is written over; the first change of a bar makes it one of mine.
  renew(form, id = bars.id()) {
    const bar = card(form);
    bar.id = id ?? bar.id;
    bars.work(bar.id, bar.address);
    return bars.put([bar, ...bars.all().filter((other) => other.id !== bar.id)]);
  },
  copy(id) {
    const bar = bars.all().find((one) => one.id === id);
    return bar && bars.put([{ ...bar, ...fresh(), title: `${bar.title}, copy` }, ...bars.all()]);
  },
  work(id, address, opening = false) {
    now = { id, r: coded(address), opening };
    write(NOW, now, TAB);
  },
  // A page that the browser kept whole comes back to its own bar, whatever the tab worked on since.
  again: () => write(NOW, now, TAB),
  // A bar too long for a link is posted, to be opened as the one it is.
  post(id, draft, units) {
    if (id) bars.work(id, "?", true);
    const form = made("form", { method: "post", action: "design", hidden: true });
    form.append(made("input", { name: "recipe", value: draft }), made("input", { name: "units", value: units }));
    document.body.append(form);
    form.submit();
  },
  // Another bar than the one this tab worked on is a new one as soon as it is changed.
  arrive(address, back, long) {
    const was = read(NOW, null, TAB), r = coded(address);
    if (was?.r === r && (r || back || (long && was.opening))) bars.work(was.id, address);
    else sessionStorage.removeItem(NOW);
  },
};

const mine = (form) => [...new FormData(form)].filter(([name, value]) => name.startsWith("mine.") && value);

export const shop = {
  told: () => read(SHOP, {}),
  keep: (form) => write(SHOP, Object.fromEntries(mine(form))),
  // Puts in what is kept where the form tells nothing; true where that changed it.
  fill(form) {
    const kept = Object.entries(shop.told());
    if (!kept.length || mine(form).length) return false;
    for (const [name, value] of kept) {
      const field = form.elements.namedItem(name) ?? form.appendChild(made("input", { type: "hidden", name }));
      if (field.type === "checkbox") field.checked = Boolean(value); else field.value = value;
    }
    return true;
  },
};
