"""Recipes as a smith might write them, and some as nobody would: `recipes()` draws them.

Grades of the library or analyses of one's own, wild ones among them; stacks, draws, restacks, twists, cuts,
a die, standing on end and splitting; bars made first, one on another or side by side; a blade, a way to hold
the heat. Most of them can be forged.
"""

from dataclasses import dataclass, field
from typing import Any

from hypothesis import strategies as st

from billet import ELEMENTS, control_methods, steels

_GRADES = tuple(steel.designation for steel in steels())
_USUAL_WT = {"C": 1.4, "Si": 2.0, "Mn": 2.0, "Cr": 5.0, "Ni": 5.0, "Mo": 1.0, "V": 0.5, "W": 1.5, "Cu": 0.5}
_FIRE_C = st.integers(760, 1250)
_LAID_MM, _COURSE_MM = 60.0, 12.0
"""Length of what is laid of bars made first, and how high each is forged."""
Step = dict[str, Any]


def tenths(low: float, high: float) -> st.SearchStrategy[float]:
    return st.integers(round(low * 10), round(high * 10)).map(lambda n: n / 10)


@st.composite
def _analysis(draw: st.DrawFn) -> dict[str, float]:
    """One that could be melted, or any at all."""
    if draw(st.integers(0, 3)):
        some = draw(st.lists(st.sampled_from(sorted(_USUAL_WT)), max_size=5, unique=True))
        return {e: round(draw(st.floats(0.0, _USUAL_WT[e])), 3) for e in dict.fromkeys(["C", *some])}
    some = draw(st.lists(st.sampled_from(ELEMENTS), max_size=6, unique=True))
    return {"C": round(draw(st.floats(0.0, 2.5)), 3)} | {
        e: round(draw(st.floats(0.0, 60.0)), 2) for e in some if e != "C"
    }


@st.composite
def _steel(draw: st.DrawFn) -> Any:
    grade = draw(st.sampled_from(_GRADES))
    kind = draw(st.integers(0, 4))
    if kind < 3:
        return grade
    wt = draw(_analysis())
    return {"like": grade, "wt": wt} if kind == 3 else {"name": "own melt", "wt": wt}


@dataclass
class _Bar:
    """A bar while its steps are drawn, with its size as near as is needed."""

    draw: st.DrawFn
    atmosphere: str
    height_mm: float
    width_mm: float
    length_mm: float
    steps: list[Step] = field(default_factory=list)

    def fire(self, least_c: int = 760) -> Step:
        temperature_c = max(self.draw(_FIRE_C), least_c)
        return {
            "temperature_c": temperature_c,
            "minutes": self.draw(tenths(0, 60)),
            "atmosphere": self.atmosphere,
        }

    def weld(self, share: float = 0.85) -> None:
        self._forge("weld", self.height_mm * share, None, self.fire(1000))

    def drawn(self, height_mm: float, width_mm: float | None = None, heats: int = 1) -> None:
        self._forge("draw", height_mm, width_mm, {**self.fire(), "heats": heats})

    def _forge(self, do: str, height_mm: float, width_mm: float | None, fire: Step) -> None:
        high = max(round(height_mm, 2), 0.5)
        wide = {} if width_mm is None else {"width_mm": round(width_mm, 2)}
        self.length_mm *= self.height_mm * self.width_mm / (high * (width_mm or self.width_mm))
        self.height_mm, self.width_mm = high, width_mm or self.width_mm
        self.steps.append({"do": do, **fire, "height_mm": high, **wide})

    def flat(self) -> None:
        self.drawn(self.height_mm * self.draw(st.floats(0.3, 0.9)), None, self.draw(st.integers(1, 8)))

    def ground(self) -> None:
        self.steps.append({"do": "grind", "per_face_mm": round(0.02 * self.height_mm, 3)})
        self.height_mm = max(round(0.95 * self.height_mm, 2), 0.5)

    def cropped(self) -> None:
        self.steps.append({"do": "crop", "end_mm": self.draw(tenths(1, 10))})
        self.length_mm -= 20.0

    def restacked(self) -> None:
        pieces = self.draw(st.integers(2, 5))
        self.steps.append(
            {"do": "restack", "pieces": pieces, "order": self.draw(st.sampled_from(["same", "turned"]))}
        )
        self.height_mm, self.length_mm = self.height_mm * pieces, self.length_mm / pieces
        self.weld(0.8)

    def twisted(self) -> None:
        side_mm = 0.97 * min(self.height_mm, self.width_mm)
        self.drawn(side_mm, side_mm, self.draw(st.integers(1, 4)))
        turns = self.draw(tenths(-10, 10)) or 1.0
        self.steps.append({"do": "twist", **self.fire(), "turns": turns, "rounded": self.draw(st.booleans())})

    def cut(self) -> None:
        """Grooves or dimples, forged flat; or a die."""
        pitch, deep = self.draw(tenths(4, 30)), self.draw(st.floats(0.05, 0.4))
        depth = {"pitch_mm": pitch, "depth_mm": max(round(self.height_mm * deep, 2), 0.1)}
        faces = self.draw(st.sampled_from(["both", "top", "bottom"]))
        kind = self.draw(st.sampled_from(["groove", "dimple", "press"]))
        across = round(pitch * self.draw(st.floats(0.5, 1.0)), 2)
        if kind == "press":
            self.steps.append({"do": kind, **self.fire(), **depth, "width_mm": across, "faces": faces})
            self.height_mm *= 1.0 - 2.0 * deep
            return
        if kind == "dimple":
            shape = {"diameter_mm": across, "depth_mm": min(depth["depth_mm"], round(0.5 * across, 2))}
            self.steps.append({"do": kind, **depth, **shape, "faces": faces})
        else:
            self.steps.append({"do": kind, **depth, "width_mm": across, "faces": faces})
        self.drawn(self.height_mm * (0.8 - 1.2 * deep))

    def stood(self) -> None:
        """A short piece on end, forged out again, and split where it was drawn so."""
        length_mm = min(self.length_mm, self.draw(tenths(30, 90)))
        self.steps += [{"do": "crop", "length_mm": round(length_mm, 1)}, {"do": "stand"}]
        self.height_mm, self.length_mm = length_mm, self.height_mm
        self.drawn(self.height_mm * self.draw(st.floats(0.1, 0.6)))
        if self.draw(st.booleans()):
            drag = {"drag_mm": self.draw(tenths(1, 20)), "width_mm": self.draw(tenths(1, 12))}
            self.steps.append({"do": "split", **self.fire(1000), **drag})


_WORKED = (_Bar.flat, _Bar.flat, _Bar.ground, _Bar.restacked, _Bar.cropped, _Bar.twisted, _Bar.cut, _Bar.cut)


def _stack(draw: st.DrawFn, names: list[str], most: int, width_mm: float, length_mm: float) -> dict[str, Any]:
    return {
        "width_mm": width_mm,
        "length_mm": length_mm,
        "pattern": names,
        "count": draw(st.integers(max(2, len(names)), most)),
        "thickness_mm": {name: draw(tenths(0.1, 8)) for name in names},
    }


def _height_mm(stack: dict[str, Any]) -> float:
    names, thickness = stack["pattern"], stack["thickness_mm"]
    return float(sum(thickness[names[place % len(names)]] for place in range(stack["count"])))


def _made_first(draw: st.DrawFn, names: list[str], atmosphere: str) -> dict[str, Any]:
    """A small bar, forged to the height of a course; a twist or cuts among its steps."""
    stack = _stack(draw, names, 9, draw(tenths(12, 30)), _LAID_MM)
    bar = _Bar(draw, atmosphere, _height_mm(stack), stack["width_mm"], _LAID_MM)
    bar.weld()
    work = draw(st.sampled_from([None, None, _Bar.flat, _Bar.twisted, _Bar.twisted, _Bar.cut]))
    if work is not None and bar.height_mm > 1.2 * _COURSE_MM:
        work(bar)
    bar.drawn(_COURSE_MM, draw(tenths(8, 14)))
    return {"stack": stack, "steps": bar.steps}


def _laid_of_bars(
    draw: st.DrawFn, names: list[str], atmosphere: str
) -> tuple[dict[str, Any], dict[str, Any], _Bar]:
    """Bars made first, the stack they lie in, and the pile of it."""
    bars = {f"b{n}": _made_first(draw, names, atmosphere) for n in range(draw(st.integers(1, 3)))}
    widths = [bar["steps"][-1]["width_mm"] for bar in bars.values()]
    if len(bars) > 1:
        course: list[dict[str, Any]] = [{"beside": list(bars)}]
        width_mm = sum(widths)
    else:
        course, width_mm = [{"bar": "b0"}, {"bar": "b0", "turned": True}], widths[0]
    plates = [{"steel": name, "thickness_mm": draw(tenths(0.5, 5))} for name in names]
    laid = draw(st.sampled_from([course, [*course, plates[0]], [plates[0], *course, plates[-1]]]))
    high = sum(item.get("thickness_mm", _COURSE_MM) for item in laid)
    stack = {"width_mm": round(width_mm, 1), "length_mm": 0.8 * _LAID_MM, "plates": laid}
    return bars, stack, _Bar(draw, atmosphere, high, stack["width_mm"], stack["length_mm"])


@st.composite
def recipes(draw: st.DrawFn) -> dict[str, Any]:
    """Most of them can be forged."""
    names = [f"s{number}" for number in range(draw(st.integers(1, 3)))]
    atmosphere = draw(st.sampled_from(["air", "reducing", "sealed"]))
    bars: dict[str, Any] = {}
    if draw(st.integers(0, 3)):
        stack = _stack(draw, names, 40, draw(tenths(20, 80)), draw(tenths(60, 400)))
        bar = _Bar(draw, atmosphere, _height_mm(stack), stack["width_mm"], stack["length_mm"])
    else:
        bars, stack, bar = _laid_of_bars(draw, names, atmosphere)
    bar.weld()
    for _ in range(draw(st.integers(0, 4))):
        draw(st.sampled_from(_WORKED))(bar)
    if not draw(st.integers(0, 5)):
        bar.stood()
    recipe: dict[str, Any] = {
        "format": 1,
        "title": "Taken the whole way",
        "steels": {name: draw(_steel()) for name in names},
        **({"bars": bars} if bars else {}),
        "stack": stack,
        "steps": bar.steps,
    }
    if draw(st.booleans()):
        recipe["blade"] = {"thickness_mm": draw(tenths(1.5, 6)), "edge_mm": draw(tenths(0.2, 1))}
    if draw(st.booleans()):
        recipe["control"] = {"method": draw(st.sampled_from([m.key for m in control_methods()]))}
    return recipe
