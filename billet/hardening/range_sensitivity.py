"""Whether the verdict hangs on which of a grade's published rows is the one worked with."""

from billet import wording
from billet.contract.report import Notice
from billet.hardening.austenitising_window import SteelWindow, steel_window
from billet.hardening.layer import LayerSteel
from billet.hardening.shared_window import SharedWindow, shared_window
from billet.tables.sources import source
from billet.tables.steels import HardeningRow


def range_sensitivity_notices(
    layers: tuple[LayerSteel, ...], windows: tuple[SteelWindow, ...], agreement: SharedWindow
) -> list[Notice]:
    """One note for each other counted row of a hardening steel that would give another verdict."""
    found = []
    for place, layer in enumerate(layers):
        if layer.role == "soft" or windows[place].preferred is None:
            continue
        for row in _other_rows(layer):
            others = (*windows[:place], steel_window(layer, row), *windows[place + 1 :])
            verdict = shared_window(layers, others).verdict
            if verdict != agreement.verdict:
                found.append(_notice(layer, row, agreement.verdict, verdict))
    return found


def _other_rows(layer: LayerSteel) -> list[HardeningRow]:
    """Rows with another range than the one worked with; outliers never count."""
    if layer.grade is None or layer.harden_c is not None:
        return []
    working = layer.grade.working_from(layer.start)
    taken = {working.window_c if working is not None else None}
    rows = []
    for row in layer.grade.hardening:
        if row.window_c is not None and not row.outlier and row.window_c not in taken:
            taken.add(row.window_c)
            rows.append(row)
    return rows


def _notice(layer: LayerSteel, row: HardeningRow, verdict: str, other: str) -> Notice:
    window = row.window_c or (0.0, 0.0)
    seen = ", from memory" if row.seen == "memory" else ""
    text = (
        f"{layer.name}: by another row, {source(row.source).short}{seen}, "
        f"{wording.temperature_range(*window)}, the verdict would be {other} instead of {verdict}"
    )
    return Notice("verdict-hangs-on-row", "note", f"steels.{layer.name}", text)
