// The step that is looked at is drawn large; on a telephone an opened step fills the screen.
const narrow = matchMedia("(max-width: 760px)");
const OPEN = ".card details.more[open]";
let back = false; // the step is shut already, only the way back is still to go

export const chosen = {
  step: "",
  // The step of which something has the focus; true where that is another than before.
  look(at) {
    const before = chosen.step;
    chosen.step = at.closest("[data-part]")?.dataset.part ?? before;
    return chosen.step !== before && !narrow.matches;
  },
};

const panel = () => (narrow.matches ? document.querySelector(OPEN) : null);

function shut(open) {
  if (!open) return;
  open.open = false;
  open.querySelector("summary").focus();
}

document.addEventListener("toggle", ({ target }) => {
  if (!narrow.matches || !target.matches?.(".card details.more")) return;
  if (target.open) {
    for (const other of document.querySelectorAll(OPEN)) other.open = other === target;
    target.closest(".card").scrollTop = 0;
    if (!history.state?.panel) history.pushState({ panel: true }, "");
  } else if (!panel() && history.state?.panel) {
    back = true;
    history.back();
  }
}, true);
document.addEventListener("keydown", (event) => {
  if (event.key === "Escape") shut(panel());
});
addEventListener("popstate", () => {
  if (!panel() && !back) return;
  back = false;
  shut(panel());
  history.replaceState(history.state, "", document.getElementById("bench").dataset.address);
});
