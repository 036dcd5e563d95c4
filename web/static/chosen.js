// The step that is looked at: its bar is drawn large, its dimensions are fields; on a telephone it fills the screen.
const narrow = matchMedia("(max-width: 760px)");
const bench = () => document.getElementById("bench");
let back = false;
const panel = () => (narrow.matches ? document.querySelector(".card details.more[open]") : null);

export const chosen = {
  step: "",
  // The step of which something has the focus; true where that is another than before.
  look(at) {
    const here = at.closest("[data-part]")?.dataset.part ?? chosen.step;
    const other = here !== chosen.step && !narrow.matches;
    chosen.step = here;
    return other;
  },
  // A dimension writes into the field of the card, and the other way round; what was proposed there is told now.
  mirror(typed) {
    const name = typed.name || typed.dataset.for, key = CSS.escape(name);
    for (const part of bench().querySelectorAll(`[data-for="${key}"], input[name="${key}"][type=text]`)) {
      if (part !== typed) part.value = typed.value;
    }
    for (const part of bench().querySelectorAll(`.field:has([name="${key}"]), [data-field="at-${key}"]`)) {
      part.classList.remove("field-proposed");
      part.querySelector(".proposed")?.remove();
    }
  },
  // Marks the card of the step that is drawn.
  show() {
    const drawn = document.getElementById("chosen")?.dataset.step;
    for (const card of document.querySelectorAll(".card")) card.classList.toggle("looked-at", card.id === drawn);
  },
};

function shut(open) {
  open.open = false;
  open.querySelector("summary").focus();
}

document.addEventListener("toggle", (event) => {
  if (!event.target.matches?.(".card details.more") || !narrow.matches) return;
  if (event.target.open) {
    for (const other of document.querySelectorAll(".card details.more[open]")) other.open = other === event.target;
    event.target.closest(".card").scrollTop = 0;
    if (!history.state?.panel) history.pushState({ panel: true }, "");
  } else if (!panel() && history.state?.panel) {
    back = true;
    history.back();
  }
}, true);
document.addEventListener("keydown", (event) => {
  const open = panel();
  if (open && event.key === "Escape") shut(open);
});
addEventListener("popstate", () => {
  const open = panel();
  if (!open && !back) return;
  back = false;
  if (open) shut(open);
  history.replaceState(history.state, "", bench().dataset.address);
});
