// What this browser keeps: my bars, each with its picture, and my fire and oil. Nothing leaves it.
const BARS = "billet.bars", SHOP = "billet.shop", NOW = "billet.now", MOST = 200;

export function read(key, otherwise) {
  try { return JSON.parse(localStorage.getItem(key)) ?? otherwise; } catch { return otherwise; }
}

export function write(key, value) {
  try { localStorage.setItem(key, JSON.stringify(value)); return true; } catch { return false; }
}

// A bar too long for a link has no address; what the form holds is kept instead.
const query = (form) => (form.dataset.draft ? "?" : form.dataset.address.slice(form.dataset.address.indexOf("?")));

const fresh = () => crypto.randomUUID?.() ?? String(Date.now());
export const coded = (address) => new URLSearchParams(address).get("r") ?? "";

function now() {
  try { return JSON.parse(sessionStorage.getItem(NOW)); } catch { return null; }
}

function card(form, id) {
  const told = [...form.querySelectorAll("#fixed .told")].map((part) => part.textContent.trim());
  const drawn = form.querySelector("#picture")?.content.querySelector("svg");
  const { title, draft } = form.dataset, picture = drawn?.outerHTML ?? "";
  return { id, title: title || "A bar", at: new Date().toISOString(), address: query(form), draft, told, picture };
}

export const bars = {
  id: () => now()?.id,
  all: () => read(BARS, []).filter((bar) => typeof bar?.address === "string" && bar.address.startsWith("?")),
  put: (list) => write(BARS, list.slice(0, MOST)),
  remove: (id) => bars.put(bars.all().filter((bar) => bar.id !== id)),
  // The bar that is being worked on is written over; the first change of a bar makes it one of mine.
  renew(form) {
    const id = now()?.id ?? fresh();
    bars.work(id, query(form));
    return bars.put([card(form, id), ...bars.all().filter((bar) => bar.id !== id)]);
  },
  another(form) {
    sessionStorage.removeItem(NOW);
    bars.renew(form);
  },
  copy(id) {
    const bar = bars.all().find((one) => one.id === id);
    if (bar) bars.put([{ ...bar, id: fresh(), title: `${bar.title}, copy`, at: new Date().toISOString() }, ...bars.all()]);
  },
  work: (id, address, opening = false) => sessionStorage.setItem(NOW, JSON.stringify({ id, r: coded(address), opening })),
  // A bar too long for a link is posted, to be opened as the one it is.
  post(id, draft, units) {
    if (id) bars.work(id, "?", true);
    const form = Object.assign(document.createElement("form"), { method: "post", action: "design", hidden: true });
    for (const [name, value] of Object.entries({ recipe: draft, units })) {
      form.append(Object.assign(document.createElement("input"), { type: "hidden", name, value }));
    }
    document.body.append(form);
    form.submit();
  },
  // Another bar than the one this tab worked on is a new one as soon as it is changed.
  arrive(address, back, long) {
    const was = now(), r = coded(address);
    if (was?.r === r && (r || back || (long && was.opening))) bars.work(was.id, address);
    else sessionStorage.removeItem(NOW);
  },
};

const valueOf = (field) => (field.type === "checkbox" ? field.checked : field.value);
const own = (form) => [...form.elements].filter((field) => field.name.startsWith("mine.") && field.type !== "hidden");

export const shop = {
  told: () => read(SHOP, {}),
  keep(form) {
    const told = own(form).map((field) => [field.name, valueOf(field)]);
    write(SHOP, Object.fromEntries(told.filter(([, value]) => value)));
  },
  // Puts in what is kept where the form tells nothing; true where that changed it.
  fill(form) {
    const kept = shop.told();
    if (!Object.keys(kept).length || own(form).some(valueOf)) return false;
    for (const [name, value] of Object.entries(kept)) {
      let field = form.elements.namedItem(name);
      if (!field && name.startsWith("mine.")) {
        field = form.appendChild(Object.assign(document.createElement("input"), { type: "hidden", name }));
      }
      if (field.type === "checkbox") field.checked = Boolean(value); else field.value = value;
    }
    return true;
  },
};
