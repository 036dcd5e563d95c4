"""How the layers of a bar add up, as a line a reader can check: 4 x 15 = 60 laid, 3 seams of like steel."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.report.words.table import Words

Values = Mapping[str, Any]


def _sum(v: Values, bar: int, in_bars: int) -> str:
    """Pieces of so many layers and the plates and bars laid with them: "4 x 15 + 1 = 61"."""
    parts = []
    if v["pieces"]:
        parts.append(f"{v['pieces']} x {bar}" if v["pieces"] > 1 else f"{bar}")
    if v["plates"]:
        parts.append(str(v["plates"]))
    if v["bars"]:
        parts.append(f"{in_bars} in {wording.count(v['bars'], 'bar')}")
    text = " + ".join(parts)
    total = v["pieces"] * bar + v["plates"] + in_bars
    return f"{text} = {total}" if len(parts) > 1 or v["pieces"] > 1 or v["bars"] else text


def _seen(v: Values) -> str | None:
    """The same for layers to the eye, before joining; None if it is the same."""
    if v["bar_visible"] == v["bar_laid"] and v["bars_visible"] == v["bars_laid"]:
        return None
    return _sum(v, v["bar_visible"], v["bars_visible"])


def _laid(v: Values) -> str:
    return _sum(v, v["bar_laid"], v["bars_laid"])


def _lost(v: Values) -> str:
    return f", {v['gone']} gone in {v['gone_in']}" if v["gone_in"] is not None else ""


def _loose(v: Values) -> str:
    seen = _seen(v)
    return f"{_laid(v)} laid{'' if seen is None else f', {seen} visible'}, loose"


def _joined(v: Values) -> str:
    seen = _seen(v)
    before = "" if seen is None else f"{seen}, "
    between = f"{wording.count(v['seams'], 'seam')} of like steel"
    return f"{_laid(v)} laid, {before}{between}{_lost(v)}: {v['visible']} visible"


def _counted(v: Values) -> str:
    return f"{v['laid']} laid{_lost(v)}, {v['visible']} visible"


def _columns(v: Values) -> str:
    return f"{v['laid']} laid, {v['visible']} visible in the bars side by side"


WORDS: dict[str, Words] = {
    "layers-loose": _loose,
    "layers-joined": _joined,
    "layers-counted": _counted,
    "layers-columns": _columns,
}
