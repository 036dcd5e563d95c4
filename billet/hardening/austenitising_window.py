"""The window of one steel as a plan tells it: its ends, and why they lie where they do."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from billet.contract.values import Fact, Range, Reason
from billet.formulas.equilibrium import CriticalLines
from billet.hardening.good_range import nearest_reading, plain_range_c
from billet.hardening.joint_decision import JointDecision
from billet.hardening.samples import LayerSamples
from billet.tables.practice import decision_numbers


@dataclass(frozen=True)
class WindowEnd:
    """One end of a window, C, and why it lies there."""

    c: float
    because: Reason


@dataclass(frozen=True)
class AustenitisingWindow:
    """Temperatures between two ends."""

    low: WindowEnd
    high: WindowEnd

    @property
    def range_c(self) -> Range:
        return (self.low.c, self.high.c)

    @property
    def width_k(self) -> float:
        return self.high.c - self.low.c


@dataclass(frozen=True)
class PublishedRange:
    """The range told for a grade, or the recipe's own; `basis` is published, memory or own."""

    range_c: Range
    published_envelope_c: Range
    source: str
    basis: str


@dataclass(frozen=True)
class SteelWindow:
    """What is known of where one steel hardens. `preferred` None: no range can be given.

    `sd_k` is the standard deviation of its ends.
    """

    steel: str
    supplied: PublishedRange | None
    preferred: AustenitisingWindow | None
    possible: AustenitisingWindow | None
    lines: CriticalLines | None
    sd_k: float
    unknown_because: Reason | None


def steel_window(decided: JointDecision, place: int) -> SteelWindow:
    """The window of one steel of a plan."""
    layer, found, lines = decided.layers[place], decided.ranges[place], decided.lines[place]
    supplied = published_range(layer)
    told = None if float(lines.high_alloy[0]) > 0.0 else lines.first()
    why = _unknown(layer, float(found.known[0]))
    if why is not None:
        return SteelWindow(layer.name, supplied, None, None, told, 0.0, why)
    low, high = float(found.good_low_c[0]), float(found.good_high_c[0])
    because = _ends(layer, (low, high), float(found.sd_k[0]))
    preferred = AustenitisingWindow(WindowEnd(low, because[0]), WindowEnd(high, because[1]))
    possible = AustenitisingWindow(
        WindowEnd(float(found.possible_low_c[0]), Reason("possible-low", {"steel": layer.name})),
        WindowEnd(float(found.possible_high_c[0]), Reason("possible-high", {"steel": layer.name})),
    )
    return SteelWindow(layer.name, supplied, preferred, possible, told, float(found.sd_k[0]), None)


def published_range(layer: LayerSamples) -> PublishedRange | None:
    """The recipe's own harden_c, else the working published row of the grade, else None."""
    if layer.harden_c is not None:
        return PublishedRange(layer.harden_c, layer.harden_c, "the recipe's own harden_c", "own")
    row = layer.grade.working_from(layer.start) if layer.grade is not None else None
    if layer.grade is None or row is None or row.window_c is None:
        return None
    basis = "published" if row.seen == "print" else "memory"
    envelope = layer.grade.published_envelope_c or row.window_c
    return PublishedRange(row.window_c, envelope, row.source, basis)


def _unknown(layer: LayerSamples, known: float) -> Reason | None:
    if layer.harden_c is not None:
        return None
    if known >= decision_numbers("role")["known_from"]:
        return None
    analysis = layer.analysis()
    most = float(decision_numbers("good_range")["foreign_wt"][0])
    known_of = decision_numbers("good_range")["scale_wt"]
    beyond = tuple(e for e, v in analysis.wt.items() if e not in known_of and v > most)
    if beyond:
        return Reason("beyond-tested", {"elements": beyond, "wt": tuple(analysis[e] for e in beyond)})
    return Reason("no-range-near", {"steel": layer.name, "carbon_wt": analysis["C"]})


def _ends(layer: LayerSamples, ends_c: Range, sd_k: float) -> tuple[Reason, Reason]:
    """Why both ends lie there: the reading that counts most, and how far the carbon has moved it."""
    carbon = float(layer.wt["C"][0])
    if layer.harden_c is not None:
        own = layer.harden_c
        return _each_end("end-given", ends_c, [{"given_c": c, "carbon_wt": carbon} for c in own])
    reading, alike = nearest_reading(layer.wt, layer.start)
    window = reading.row.window_c
    if alike < decision_numbers("good_range")["near_from"] or window is None:
        lines = plain_range_c(carbon)
        return _each_end("end-between", ends_c, [{"line_c": c, "sd_k": sd_k} for c in lines])
    read: dict[str, Fact] = {
        "grade": reading.grade.designation,
        "grade_carbon_wt": reading.grade.nominal["C"],
        "source": reading.row.source,
        "seen": reading.row.seen,
        "carbon_wt": carbon,
        "sd_k": sd_k,
    }
    return _each_end("end-near", ends_c, [{"printed_c": c, **read} for c in window])


def _each_end(code: str, ends_c: Range, facts: Sequence[Mapping[str, Fact]]) -> tuple[Reason, Reason]:
    low, high = (
        Reason(code, {"which": which, "c": c, **more})
        for which, c, more in zip(("low", "high"), ends_c, facts, strict=True)
    )
    return low, high
