"""A steel at one temperature: what it is made of, and where its own temperatures lie."""

from typing import TYPE_CHECKING

from markupsafe import Markup

from billet import wording
from web.charts.axes import Scale
from web.charts.dimension import datum
from web.charts.hatch import definitions, fill_of
from web.charts.svg import drawing, line, rectangle, text
from web.charts.window import double_axis, held_in

if TYPE_CHECKING:
    from billet import SteelState

PHASES = ("carbide", "austenite", "ferrite")
ROW = 34.0


def state_drawing(
    state: "SteelState", key: str = "state", width: float = 700.0, shop: wording.Units = "mm"
) -> Markup:
    """Shares of austenite, ferrite and carbide as one bar; below it Ms, Ae1, Ae3 and Acm on an axis.

    Empty where nothing is computed for the steel.
    """
    if state.equilibrium is None:
        return Markup("")
    parts = [definitions(key, PHASES), *_shares(state, key, width)]
    lines = [
        (name, found)
        for name, found in (
            ("Ms", state.ms_c), ("Ae1", state.ae1_c), ("Ae3", state.ae3_c), ("Acm", state.acm_c),
        )
        if found is not None
    ]  # fmt: skip
    ends = [state.temperature_c, *(value for _, f in lines for value in (f.low, f.high))]
    scale = Scale(min(ends) - 40.0, max(ends) + 40.0, 26, width - 26)
    top, bottom = 130.0, 150.0 + ROW * len(lines)
    x = scale(state.temperature_c)
    parts += [line((x, top - 8), (x, bottom), "set-line"), datum(x, bottom, "datum heat-fill")]
    for place, (name, found) in enumerate(lines):
        y = top + 20 + ROW * place
        words = f"{name} {wording.temperature(found.value)}"
        parts.append(line((scale(found.low), y), (scale(found.high), y), "range range-preferred"))
        parts.append(line((scale(found.value), y - 7), (scale(found.value), y + 7), "range-end"))
        parts.append(text(held_in(scale(found.value), words, width), y - 10, words, "label halo", "middle"))
    words = wording.temperature(state.temperature_c)
    parts.append(text(held_in(x, words, width), top - 14, words, "label heat strong halo", "middle"))
    parts += double_axis(scale, bottom, width, shop)
    amounts = state.equilibrium
    told = "At equilibrium " + ", ".join(
        f"{wording.percent(getattr(amounts, name))} {name}" for name in PHASES
    )
    return drawing(key, width, bottom + 66, f"The steel at {words}", told + ".", parts)


def _shares(state: "SteelState", key: str, width: float) -> list[Markup]:
    """One bar the width of the paper, cut into its phases, each hatched and named under it."""
    parts: list[Markup] = []
    x = 4.0
    for place, name in enumerate(PHASES):
        share = float(getattr(state.equilibrium, name))
        wide = share * (width - 8)
        parts.append(rectangle(x, 10, wide, 34, "layer", fill_of(key, PHASES, name)))
        label_x = 4 + (width - 8) / 3 * place
        parts.append(rectangle(label_x, 60, 24, 16, "swatch", fill_of(key, PHASES, name)))
        parts.append(text(label_x + 30, 73, f"{name} {wording.percent(share)}", "label"))
        x += wide
    parts.append(rectangle(4, 10, width - 8, 34, "outline"))
    return parts
