"""The steel library as text and as plain dicts."""

from collections.abc import Iterable
from typing import Any

from billet import wording
from billet.contract.report import to_plain
from billet.sheets.layout import bullet, heading, sentence, table, wrapped
from billet.tables.sources import source
from billet.tables.steels import HardeningRow, Steel

SEEN = {"print": "read in print", "memory": "from memory", "mixed": "partly read, partly from memory"}
SHORT = ("C", "Mn", "Cr", "Ni")


def steel_dict(steel: Steel) -> dict[str, Any]:
    """One grade as plain values for JSON; analyses stand as element and wt%."""
    plain: dict[str, Any] = to_plain(steel)
    rows = [{**to_plain(row), "window_c": to_plain(row.window_c)} for row in steel.hardening]
    return {**plain, "nominal": dict(steel.nominal.wt), "hardening": rows}


def steels_text(listed: Iterable[Steel]) -> str:
    """The whole library, a line a grade."""
    rows = [_short_row(steel) for steel in listed]
    columns = ("Steel", "Number", *SHORT, "Harden at", "Seen")
    lines = heading(f"{wording.count(len(rows), 'steel')}; wt%, usual analysis, working range")
    return "\n".join([*lines, *table(columns, rows)]) + "\n"


def _short_row(steel: Steel) -> tuple[str, ...]:
    working = steel.working
    heat = "does not harden"
    if working is not None and working.window_c is not None:
        heat = wording.temperature_range(*working.window_c)
    contents = (f"{steel.nominal[element]:.2f}" for element in SHORT)
    seen = working.seen if working is not None else steel.seen
    return (steel.designation, steel.number, *contents, heat, seen)


def steel_text(steel: Steel) -> str:
    """One grade: names, analysis, what each source says about heat treating it, doubts."""
    lines = heading(f"{steel.designation}: {_heat(steel)}", "=")
    lines += ["", *table((), _names(steel))]
    lines += ["", *heading(f"Analysis, wt% ({SEEN[steel.seen]})"), *_analysis(steel)]
    if steel.seen_note:
        lines += wrapped(sentence(steel.seen_note))
    for row in steel.hardening:
        lines += ["", *_hardening(row)]
    doubts = [
        *steel.conflicts,
        *(["the analysis is not confirmed by any public text"] if steel.unconfirmed else []),
    ]
    if doubts:
        lines += ["", *heading("Doubts")]
        lines += [line for doubt in doubts for line in bullet(sentence(doubt))]
    return "\n".join(lines) + "\n"


def _heat(steel: Steel) -> str:
    working = steel.working
    if working is None or working.window_c is None:
        return "does not harden by itself"
    return f"harden at {wording.temperature_range(*working.window_c)}"


def _names(steel: Steel) -> list[tuple[str, str]]:
    rows = [("Number", steel.number), ("Standard", steel.standard)]
    if steel.aliases:
        rows.append(("Same", ", ".join(steel.aliases)))
    if steel.relatives:
        rows.append(("Near, not equal", ", ".join(steel.relatives)))
    density = f"{steel.density_g_cm3:.2f} g/cm³"
    return [*rows, ("Density", density), ("Analysis from", _citation(steel.source))]


def _citation(key: str) -> str:
    return source(key).citation


def _analysis(steel: Steel) -> list[str]:
    elements = [e for e in (*steel.nominal.wt, *steel.high) if e in steel.high or steel.nominal[e] > 0.0]
    rows = [
        (
            element,
            _content(steel.low.get(element)),
            _content(steel.nominal[element] or None),
            _content(steel.high.get(element)),
        )
        for element in dict.fromkeys(elements)
    ]
    return table(("Element", "From", "Usual", "To"), rows)


def _content(value: float | None) -> str:
    return "" if value is None else f"{value:.3f}".rstrip("0").rstrip(".")


def _hardening(row: HardeningRow) -> list[str]:
    use = (
        "the working row" if row.working else "not counted, an outlier" if row.outlier else "shown beside it"
    )
    rows = [("Read", SEEN[row.seen])]
    if row.harden_c is not None and row.window_c is not None:
        printed = (
            wording.temperature(row.harden_c[1]) if row.single else wording.temperature_range(*row.window_c)
        )
        counts = f", counts as {wording.temperature_range(*row.window_c)}" if row.single else ""
        rows.append(("Harden", f"{printed}{counts}"))
    for label, pair in (
        ("Normalise", row.normalise_c),
        ("Anneal", row.anneal_c),
        ("Forge", row.forge_c),
    ):
        if pair is not None:
            rows.append((label, wording.temperature_range(*pair)))
    rows.append(("Medium", row.medium or "not told"))
    if row.hardness:
        rows.append(("Hardness", ", ".join(_hrc(hrc, c) for hrc, c in row.hardness)))
    if row.ms_c is not None:
        rows.append(("Ms", wording.temperature(row.ms_c)))
    rows += [(label, text) for label, text in (("Why", row.why), ("Note", row.note)) if text]
    return [*heading(f"{_citation(row.source)} ({use})"), *table((), rows)]


def _hrc(hrc: float, temper_c: float | None) -> str:
    after = "as quenched" if temper_c is None else f"after {wording.temperature(temper_c)}"
    return f"{wording.hardness(hrc)} {after}"
