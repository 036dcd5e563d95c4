"""The range in which a steel of a given analysis hardens best, from all that is published.

A published range is a reading at one analysis. Between the readings the range is the line of the plain
steels, moved by what the alloy does to the critical line, plus what the readings near by differ from that,
each counting by how near its analysis lies and how surely it was printed (kriging; Rasmussen and Williams,
Gaussian Processes for Machine Learning, MIT Press 2006, section 2.2). So steels of one analysis have one
range whatever they are called, a melt moves it steadily, and its standard deviation says how well it is
known. The scales are our own construction.
"""

from collections.abc import Mapping
from dataclasses import dataclass, fields
from functools import cache

import numpy as np

from billet.hardening.critical_lines import Lines, lines_of, ramp
from billet.hardening.samples import Array, FormulaErrors
from billet.tables.practice import decision_numbers, plain_line, plain_reference
from billet.tables.steels import HardeningRow, Start, Steel, steels


@dataclass(frozen=True)
class GoodRange:
    """(samples,) each, C; `sd_k` is the standard deviation of its ends, `known` 0 where nothing near it
    is published for a kind that cannot be computed, 1 where it is."""

    low_c: Array
    high_c: Array
    sd_k: Array
    known: Array

    def with_own(self, at: int, own: "GoodRange") -> "GoodRange":
        """With another range in place of the samples from `at` on."""
        return GoodRange(*(_put(getattr(self, f.name), at, getattr(own, f.name)) for f in fields(GoodRange)))


def _put(values: Array, at: int, own: Array) -> Array:
    return np.concatenate([values[:at], own, values[at + len(own) :]])


@dataclass(frozen=True)
class Reading:
    """One published row of one grade, with how far it may be off."""

    grade: Steel
    row: HardeningRow
    sd_k: float


@dataclass(frozen=True)
class _Model:
    """Of all readings: where they lie, how far they may be off, and what is reckoned of them once."""

    place: Array
    sd_k: Array
    spread_k: Array
    inverse: Array
    weights: Array


def good_range(wt: Mapping[str, Array], lines: Lines, start: Start, errors: FormulaErrors) -> GoodRange:
    """Good range of an analysis after forging, each element (samples,) in wt%."""
    model = _model(start)
    low, high = _expected(wt, lines)
    strange = strangeness(wt, lines.high_alloy)
    spread = _spread_k(strange)
    near = _alike(_place(wt), spread, model.place, model.spread_k)
    moved = near @ model.weights
    left = spread**2 - ((near @ model.inverse) * near).sum(1)
    sd_k = np.sqrt(np.maximum(left, 0.0))
    numbers = decision_numbers("good_range")
    known = (1.0 - strange * ramp(sd_k, *numbers["unknown_sd_k"])) * (1.0 - foreign(wt))
    off = errors.range_sd * sd_k
    low, high = low + moved[:, 0] + off, high + moved[:, 1] + off
    middle, half = 0.5 * (low + high), np.maximum(0.5 * (high - low), numbers["least_half_width_k"])
    return GoodRange(middle - half, middle + half, sd_k, known)


@cache
def readings(start: Start) -> tuple[Reading, ...]:
    """Every counted row of every grade for blades of this structure."""
    numbers = decision_numbers("good_range")
    found = []
    for grade in steels():
        working = grade.working_from(start)
        for row in grade.hardening:
            if row.window_c is None or row.outlier:
                continue
            sd_k = float(numbers["reading_sd_k"][row.seen])
            if row is not working:
                sd_k *= float(numbers["other_row_factor"])
                if row.fine_start and start != "normalised":
                    sd_k *= float(numbers["other_start_factor"])
            found.append(Reading(grade, row, sd_k))
    return tuple(found)


@cache
def _model(start: Start) -> _Model:
    rows = readings(start)
    wt = {e: np.array([r.grade.nominal[e] for r in rows]) for e in decision_numbers("good_range")["scale_wt"]}
    (lines,) = lines_of([(wt, FormulaErrors.none(len(rows)))])
    expected_low, expected_high = _expected(wt, lines)
    printed = np.array([r.row.window_c for r in rows])
    place, spread = _place(wt), _spread_k(strangeness(wt, lines.high_alloy))
    sd_k = np.array([r.sd_k for r in rows])
    noise = np.diag(sd_k**2)
    inverse = np.asarray(np.linalg.inv(_alike(place, spread, place, spread) + noise), dtype=np.float64)
    off = np.stack([printed[:, 0] - expected_low, printed[:, 1] - expected_high], axis=1)
    return _Model(place, sd_k, spread, inverse, inverse @ off)


def _place(wt: Mapping[str, Array]) -> Array:
    """Where an analysis lies, (samples, elements): in scales over which hardening ranges alter."""
    numbers = decision_numbers("good_range")
    zero = np.zeros(len(wt["C"]))
    columns = []
    for element, scale in numbers["scale_wt"].items():
        part = wt.get(element, zero) / scale
        rise = numbers["logarithmic"].get(element)
        columns.append(part if rise is None else np.log1p(part) / rise)
    return np.stack(columns, axis=1)


def _alike(here: Array, here_k: Array, there: Array, there_k: Array) -> Array:
    """Covariance of two sets of analyses, K2: (here, there)."""
    apart = (here**2).sum(1)[:, None] + (there**2).sum(1)[None, :] - 2.0 * here @ there.T
    found: Array = here_k[:, None] * there_k[None, :] * np.exp(-0.5 * np.maximum(apart, 0.0))
    return found


def _spread_k(strange: Array) -> Array:
    low, high = decision_numbers("good_range")["spread_k"]
    found: Array = low + (high - low) * strange
    return found


def strangeness(wt: Mapping[str, Array], high_alloy: Array) -> Array:
    """How far an analysis lies outside what the critical lines were tested on, 0 to 1: (samples,)."""
    numbers = decision_numbers("good_range")
    found = high_alloy
    for element, most in numbers["tested_wt"].items():
        if element in wt:
            found = np.maximum(found, ramp(wt[element] / most, *numbers["strange_ratio"]))
    return found


def foreign(wt: Mapping[str, Array]) -> Array:
    """How much there is of an element that no reading tells of, 0 to 1: (samples,)."""
    numbers = decision_numbers("good_range")
    found = np.zeros(len(wt["C"]))
    for element, values in wt.items():
        if element not in numbers["scale_wt"]:
            found = np.maximum(found, ramp(values, *numbers["foreign_wt"]))
    return found


def _expected(wt: Mapping[str, Array], lines: Lines) -> tuple[Array, Array]:
    """What is expected where nothing near by is published: (samples,) low and high, C."""
    numbers = decision_numbers("good_range")
    carbon = wt["C"]
    rows = np.array(plain_line())
    low, high = (np.interp(carbon, rows[:, 0], rows[:, i]) for i in (1, 2))
    most = numbers["most_shift_k"]
    shift = np.clip(lines.full_c - _plain_full_c(carbon), -most, most)
    shift = np.where(np.isfinite(shift), shift, 0.0)
    share, (alloyed_low, alloyed_high) = lines.high_alloy, numbers["high_alloy_c"]
    return (
        (1.0 - share) * (low + shift) + share * alloyed_low,
        (1.0 - share) * (high + np.maximum(shift, 0.0)) + share * alloyed_high,
    )


def plain_range_c(carbon_wt: float) -> tuple[float, float]:
    """The line of the plain steels at a carbon content, held at its ends. [C]"""
    rows = np.array(plain_line())
    low, high = (float(np.interp(carbon_wt, rows[:, 0], rows[:, i])) for i in (1, 2))
    return low, high


def _plain_full_c(carbon_wt: Array) -> Array:
    nodes, full = _plain_full_line()
    found: Array = np.interp(carbon_wt, nodes, full)
    return found


@cache
def _plain_full_line() -> tuple[Array, Array]:
    """The plain steel's own critical line against carbon, solved once."""
    numbers = decision_numbers("good_range")
    least, most = (float(c) for c in numbers["plain_nodes_wt"])
    nodes = np.linspace(least, most, int(numbers["plain_nodes"]))
    steel = plain_reference(0.5)
    wt = {"C": nodes, **{e: np.full(len(nodes), v) for e, v in steel.wt.items() if e != "C"}}
    (lines,) = lines_of([(wt, FormulaErrors.none(len(nodes)))])
    return nodes, lines.full_c


def given_range(harden_c: tuple[float, float], supplied_wt: Array, carbon_wt: Array) -> GoodRange:
    """The recipe's own range, which held for the steel as supplied, moved as that of a plain steel is."""
    rows = np.array(plain_line())
    ends = []
    for column, end in ((1, harden_c[0]), (2, harden_c[1])):
        now, then = (np.interp(c, rows[:, 0], rows[:, column]) for c in (carbon_wt, supplied_wt))
        ends.append(end + now - then)
    half = np.maximum(0.5 * (ends[1] - ends[0]), decision_numbers("good_range")["least_half_width_k"])
    middle = 0.5 * (ends[0] + ends[1])
    zero = np.zeros(len(carbon_wt))
    return GoodRange(middle - half, middle + half, zero, zero + 1.0)


def nearest_reading(wt: Mapping[str, Array], start: Start) -> tuple[Reading, float]:
    """The published row that counts most at an analysis (its first sample), and how alike, 0 to 1."""
    rows = readings(start)
    model = _model(start)
    place = _place({e: v[:1] for e, v in wt.items()})
    alike = np.exp(-0.5 * ((place - model.place) ** 2).sum(1))
    counts = alike / model.sd_k
    chosen = int(np.argmax(counts))
    return rows[chosen], float(alike[chosen])
