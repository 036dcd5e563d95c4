// Keeps the ticks of the anvil and what came, by bar, in this browser. The pages turn by plain links without it.
(function () {
  const heats = document.getElementById("heats");
  const place = "anvil-" + heats.dataset.bar;
  let kept = read();

  function read() {
    try {
      const found = JSON.parse(window.localStorage.getItem(place));
      return found && typeof found === "object" ? found : {};
    } catch {
      return {};
    }
  }

  // Two windows may be open: what the other wrote since stays, but for this one heat.
  function change(key, what) {
    kept = read();
    kept[key] = Object.assign({}, kept[key], what);
    try {
      window.localStorage.setItem(place, JSON.stringify(kept));
    } catch {
      // A browser that keeps nothing still shows the heats.
    }
    show();
  }

  function show() {
    for (const heat of heats.querySelectorAll("[data-key]")) {
      const told = kept[heat.dataset.key] || {};
      const tick = heat.querySelector("[data-tick]");
      tick.classList.toggle("ticked", Boolean(told.done));
      tick.querySelector(".done-words").textContent = told.done ? "Done; next" : "Done";
      heat.querySelector("[data-untick]").hidden = !told.done;
      const came = heat.querySelector("[data-came]");
      if (came && came !== document.activeElement) came.value = typed(told) ?? came.defaultValue;
    }
    for (const row of heats.querySelectorAll("[data-of]")) {
      const told = kept[row.dataset.of] || {};
      row.classList.toggle("ticked", Boolean(told.done));
      row.querySelector(".did").textContent = typed(told) || (told.done ? "done" : "");
    }
  }

  // What was typed in the other unit is not shown in a field of this one.
  function typed(told) {
    return told.units && told.units !== heats.dataset.units ? undefined : told.came;
  }

  function keyOf(node) {
    return node.closest("[data-key]").dataset.key;
  }

  heats.addEventListener("click", function (event) {
    const pressed = event.target.closest("[data-tick], [data-untick], [data-clear]");
    if (!pressed) return;
    if (pressed.matches("[data-tick]")) change(keyOf(pressed), { done: true });
    else if (pressed.matches("[data-untick]")) change(keyOf(pressed), { done: false });
    else if (window.confirm("Clear all ticks and what came?")) {
      window.localStorage.removeItem(place);
      kept = {};
      show();
    }
  });
  heats.addEventListener("input", function (event) {
    if (event.target.matches("[data-came]")) change(keyOf(event.target), { came: event.target.value, units: heats.dataset.units });
  });
  // The keypad's own key for "done" keeps what was typed; the plan is asked for by its button alone.
  heats.addEventListener("keydown", function (event) {
    if (event.key !== "Enter" || !event.target.matches("[data-came]")) return;
    event.preventDefault();
    event.target.blur();
  });
  window.addEventListener("storage", function () {
    kept = read();
    show();
  });

  for (const node of document.querySelectorAll(".by-script, [data-clear]")) node.hidden = false;
  show();
  if (!window.location.hash) {
    const next = [...heats.querySelectorAll("[data-key]")].find((heat) => !(kept[heat.dataset.key] || {}).done);
    window.location.replace("#" + (next ? next.id : "all"));
  }
})();
