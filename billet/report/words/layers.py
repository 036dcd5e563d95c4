"""How the layers of a bar add up, as a line a reader can check: 4 x 15 = 60 laid, 3 seams of like steel."""

from collections.abc import Mapping
from typing import Any

from billet import wording
from billet.report.words.table import Words

Values = Mapping[str, Any]


def _sum(v: Values, bar: int) -> str:
    """Pieces of so many layers and the plates laid with them: "4 x 15 + 1 = 61"."""
    if not v["pieces"]:
        return str(v["plates"])
    text = f"{v['pieces']} x {bar}" if v["pieces"] > 1 else f"{bar}"
    total = v["pieces"] * bar + v["plates"]
    if v["plates"]:
        return f"{text} + {v['plates']} = {total}"
    return f"{text} = {total}" if v["pieces"] > 1 else text


def _seen(v: Values) -> str | None:
    """The same for layers to the eye, before joining; None if it is the same."""
    return None if v["bar_visible"] == v["bar_laid"] else _sum(v, v["bar_visible"])


def _lost(v: Values) -> str:
    return f", {v['gone']} gone in {v['gone_in']}" if v["gone_in"] is not None else ""


def _loose(v: Values) -> str:
    seen = _seen(v)
    return f"{_sum(v, v['bar_laid'])} laid{'' if seen is None else f', {seen} visible'}, loose"


def _joined(v: Values) -> str:
    seen = _seen(v)
    before = "" if seen is None else f"{seen}, "
    between = f"{wording.count(v['seams'], 'seam')} of like steel"
    return f"{_sum(v, v['bar_laid'])} laid, {before}{between}{_lost(v)}: {v['visible']} visible"


def _counted(v: Values) -> str:
    return f"{v['laid']} laid{_lost(v)}, {v['visible']} visible"


WORDS: dict[str, Words] = {
    "layers-loose": _loose,
    "layers-joined": _joined,
    "layers-counted": _counted,
}
