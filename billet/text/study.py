"""The study as text for a terminal: why the window ends where it does, and what stands behind the heat."""

from itertools import groupby

from billet import wording
from billet.contract.study import FireRow, HeatCurve, HeatPoint, Study
from billet.sheets.layout import bullet, heading, sentence, table
from billet.wording import Units


def study_text(study: Study, units: Units = "mm") -> str:
    """The study in lines no wider than the page; its curves stand as tables."""
    lines = heading(f"Why: {study.title}", "=")
    lines += _window(study)
    for curve in study.hardness:
        lines += _curve(curve)
    lines += [*_quench(study, units), *_fires(study), *_skin(study), *_holding(study)]
    made = study.made_with
    lines += ["", f"Recipe {study.recipe_id}, program {made.billet}, data {made.data}"]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _names(study: Study) -> list[str]:
    return [curve.steel for curve in study.hardness]


def _told(title: str, words: list[str], names: list[str]) -> list[str]:
    if not words:
        return []
    return ["", *heading(title), *(line for each in words for line in bullet(sentence(each, names)))]


def _window(study: Study) -> list[str]:
    ends = {"low": "low end", "high": "top"}
    reasons = []
    for reason in study.reasons:
        by = f", set by {reason.set_by}" if reason.set_by else ""
        reasons.append(
            f"{ends[reason.end]} {wording.temperature(reason.temperature_c)}{by}: {reason.because}"
        )
    names = _names(study)
    return _told("The window", reasons, []) + _told(
        "From its low end to its top", list(study.ends_told), names
    )


def _curve(curve: HeatCurve) -> list[str]:
    lines = ["", *heading(f"{curve.steel} over the hardening heat")]
    if curve.because:
        lines += bullet(sentence(curve.because))
    rows = []
    for cells, points in groupby(curve.points, _cells):
        heats = [point.temperature_c for point in points]
        heat = wording.temperature_range(heats[0], heats[-1])
        rows.append((heat if len(heats) > 1 else wording.temperature(heats[0]), *cells))
    columns = ("Heat", "As quenched", "Retained austenite", "Carbon dissolved", "Carbide left")
    return lines + (table(columns, rows) if rows else [])


def _cells(point: HeatPoint) -> tuple[str, ...]:
    """A point as it is printed; neighbours that print alike share a row."""
    return (
        wording.estimate(point.hrc, wording.hardness),
        wording.estimate(point.retained_austenite, wording.percent),
        wording.estimate(point.austenite_carbon_wt, wording.wt),
        wording.estimate(point.carbide, wording.percent),
    )


def _quench(study: Study, units: Units) -> list[str]:
    cooling = study.cooling
    told = "; the recipe tells no blade" if cooling.thickness_assumed else ""
    lines = ["", *heading(f"The quench, {wording.length(cooling.thickness_mm, units)} thick{told}")]
    rows = [
        (
            f"{row.medium}, chosen" if row.medium == cooling.medium else row.medium,
            wording.estimate(row.rate_k_s, wording.rate),
            ", ".join(f"{steel} {wording.times(ratio)}" for steel, ratio in row.times_needed.items()),
        )
        for row in cooling.media
    ]
    lines += table(("Medium", "Cools at", "Of the rate that is needed"), rows)
    words = [row.because or row.words for row in cooling.steels]
    return lines + [line for each in words for line in bullet(sentence(each, _names(study)))]


def _fires(study: Study) -> list[str]:
    forging = study.forging
    lines = ["", *heading("The fires"), *bullet(sentence(forging.words, _names(study)))]
    return lines + (table(("Step", "Heat", "Burns first", "Room"), [_fire(f) for f in forging.fires]))


def _fire(row: FireRow) -> tuple[str, ...]:
    burns = f"{row.burns_first}, from {wording.temperature(row.limit_c)}"
    room = wording.difference(row.margin_k)
    step = f"{row.step} {row.do}" if row.bar is None else f"{row.bar}, {row.step} {row.do}"
    return (step, wording.temperature(row.temperature_c), burns, room)


def _skin(study: Study) -> list[str]:
    words = [text for text in (study.skin.words, study.skin.pale_words) if text]
    return _told("Skin and seams", words, _names(study))


def _holding(study: Study) -> list[str]:
    holding = study.holding
    magnet = [f"{row.steel}: {row.words}" for row in holding.magnet if row.words]
    return _told("Holding the heat", [text for text in (holding.words, *magnet) if text], _names(study))
