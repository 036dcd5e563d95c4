"""Bars to start from. Each is a whole recipe whose fires and heights are proposed until touched."""

import copy
from dataclasses import dataclass
from typing import Any

from web.form.proposing import completed, new_step, snapped
from web.http.links import Units

Draft = dict[str, Any]
DEFAULT = "flat"


@dataclass(frozen=True)
class Start:
    """One bar to start from: its name in the address, what it is called, and its draft."""

    name: str
    label: str
    draft: Draft


def _step(do: str, **values: Any) -> Draft:
    """A new step in which these values are told and the rest stays proposed."""
    step = new_step(do)
    step["told"]["proposed"] = [key for key in step["told"]["proposed"] if key not in values]
    return {**step, **values}


def _bar(title: str, steels: dict[str, Any], stack: Draft, *steps: Draft, **more: Any) -> Draft:
    return {"format": 1, "title": title, "steels": steels, "stack": stack, "steps": list(steps), **more}


def _order(count: int, sizes: dict[str, float], width_mm: float = 40, length_mm: float = 150) -> Draft:
    return {
        "width_mm": width_mm,
        "length_mm": length_mm,
        "pattern": list(sizes),
        "count": count,
        "thickness_mm": dict(sizes),
    }


PAIR = {"1084": "1084", "15N20": "15N20"}
SIZES = {"1084": 3.0, "15N20": 1.5}
BLADE = {"thickness_mm": 3}


def _again(pieces: int, height_mm: float, **restack: Any) -> tuple[Draft, ...]:
    return (
        _step("grind", per_face_mm=0.4),
        _step("restack", pieces=pieces, **restack),
        _step("weld"),
        _step("draw", height_mm=height_mm),
    )


def _flat() -> Draft:
    steps = (_step("weld"), _step("draw", height_mm=12), *_again(4, 6))
    return _bar("Flat stack", dict(PAIR), _order(15, SIZES), *steps, blade=dict(BLADE))


def _folded() -> Draft:
    steps = (
        _step("weld"), _step("draw", height_mm=10), *_again(3, 10, order="folded"),
        *_again(3, 6, order="folded"),
    )  # fmt: skip
    return _bar("Folded bar", dict(PAIR), _order(7, {"1084": 4.0, "15N20": 2.0}), *steps, blade=dict(BLADE))


def _core() -> Draft:
    steels = {"1095": "1095", **PAIR}
    lay = ["piece", {"steel": "1095", "thickness_mm": 4}, "turned"]
    restack = _step("restack", pieces=2, lay=lay)
    restack.pop("order")
    steps = (
        _step("weld"), _step("draw", height_mm=10), _step("grind", per_face_mm=0.4), restack, _step("weld"),
        _step("draw", height_mm=6),
    )  # fmt: skip
    return _bar("Plain core", steels, _order(11, SIZES), *steps, blade=dict(BLADE))


def _twist() -> Draft:
    from web.form.fields import step_words

    twist = "twist" if "twist" in step_words() else "other"
    values = {} if twist == "twist" else {"what": "twist, 6 turns"}
    steps = (
        _step("weld"), _step("draw", height_mm=18, width_mm=18), _step(twist, **values),
        _step("draw", height_mm=7, width_mm=30),
    )  # fmt: skip
    return _bar("Twist", dict(PAIR), _order(9, SIZES, 30, 140), *steps, blade=dict(BLADE))


def _ladder() -> Draft:
    from web.form.fields import step_words

    cut = "groove" if "groove" in step_words() else "other"
    values = {} if cut == "groove" else {"what": "grooves across, both faces"}
    steps = (
        _step("weld"), _step("draw", height_mm=12), *_again(3, 12), _step(cut, **values),
        _step("draw", height_mm=7),
    )  # fmt: skip
    return _bar("Ladder", dict(PAIR), _order(13, SIZES), *steps, blade=dict(BLADE))


def _nickel() -> Draft:
    steels = {"1080": "1080", "nickel": "Ni99.2", "1084": "1084"}
    laid = (("1080", 5), ("nickel", 0.5), ("1084", 6), ("nickel", 0.5), ("1080", 5))
    plates = [{"steel": name, "thickness_mm": thick} for name, thick in laid]
    stack = {"width_mm": 40, "length_mm": 160, "plates": plates}
    return _bar("Nickel sheet", steels, stack, _step("weld"), _step("draw", height_mm=6), blade=dict(BLADE))


def _one_steel() -> Draft:
    stack = {"width_mm": 35, "length_mm": 200, "plates": [{"steel": "1084", "thickness_mm": 8}]}
    return _bar("One-steel blade", {"1084": "1084"}, stack, _step("draw", height_mm=5), blade=dict(BLADE))


def _several() -> Draft:
    def cord(turns: int) -> Draft:
        steps = (
            _step("weld", height_mm=19), _step("draw", height_mm=13, width_mm=13),
            _step("twist", turns=turns, rounded=True), _step("draw", height_mm=12, width_mm=12),
        )  # fmt: skip
        return {"stack": _order(7, {"1084": 4.0, "15N20": 2.0}, 25, 75), "steps": list(steps)}

    edge = {"width_mm": 16, "length_mm": 250, "plates": [{"steel": "1095", "thickness_mm": 12.0}]}
    stack = {"width_mm": 40, "length_mm": 250, "plates": [{"beside": ["left", "right", "edge"]}]}
    steps = (_step("weld", height_mm=10), _step("draw", height_mm=6, width_mm=44))
    bars = {"left": cord(-8), "right": cord(8), "edge": {"stack": edge}}
    blade = {"thickness_mm": 4, "edge_at": "right"}
    return _bar("Several bars", {**PAIR, "1095": "1095"}, stack, *steps, blade=blade, bars=bars)


_MAKERS = (
    ("flat", "Flat stack", _flat),
    ("folded", "Folded", _folded),
    ("core", "Plain core", _core),
    ("twist", "Twist", _twist),
    ("ladder", "Ladder", _ladder),
    ("nickel", "Nickel sheet", _nickel),
    ("several", "Several bars", _several),
    ("one", "One-steel blade", _one_steel),
)
NAMES = {name: label for name, label, _ in _MAKERS}


def start(name: str, units: Units = "mm") -> Draft:
    """The draft of a start in the shop's own sizes, all proposals reckoned. Raises KeyError."""
    make = {key: maker for key, _, maker in _MAKERS}[name]
    draft = copy.deepcopy(make())
    return completed(_snapped(draft, units) if units == "inch" else draft, units)


def _snapped(value: Any, units: Units, key: str = "") -> Any:
    """Every length of a draft as a size of an inch shop; thin sheet stays as it is bought."""
    if isinstance(value, dict):
        lengths = key == "thickness_mm"
        return {k: _snapped(v, units, "thickness_mm" if lengths else k) for k, v in value.items()}
    if isinstance(value, list):
        return [_snapped(item, units) for item in value]
    is_length = key.endswith("_mm") and isinstance(value, int | float) and value >= THIN_MM
    if not is_length:
        return value
    return (
        snapped(value, units)
        if value < WIDE_MM
        else round(round(value / QUARTER_INCH_MM) * QUARTER_INCH_MM, 5)
    )


THIN_MM, WIDE_MM, QUARTER_INCH_MM = 0.8, 25.0, 6.35
