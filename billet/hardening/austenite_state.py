"""What a steel is at a temperature: at equilibrium, after a short soak, and once quenched from there."""

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from billet.composition import Composition
from billet.contract.report import Estimate
from billet.contract.values import Reason
from billet.errors import OutOfDomain
from billet.formulas.equilibrium import CriticalLines, critical_lines, outside_range
from billet.formulas.martensite import retained_austenite_of
from billet.hardening.austenite import AusteniteSamples, austenitised
from billet.hardening.bands import Perturbed, band, band_around, concatenated, perturbed
from billet.hardening.critical_lines import Lines
from billet.hardening.layer import is_austenitic, is_high_alloy, low_alloy_limits
from billet.hardening.samples import Array, CellCarbon, FormulaErrors, LayerSamples
from billet.recipe.melting import melts_from_c
from billet.tables.practice import decision_numbers
from billet.tables.steels import Start

LineBands = tuple[Estimate | None, Estimate | None, Estimate | None]
"""Ae1, Ae3 and Acm; None where an analysis has no such line. [C]"""
LEAST_AUSTENITE_FRAC = 0.01
BATH_C = 60.0


@dataclass(frozen=True)
class EquilibriumAmounts:
    """Mass fractions 0 to 1; carbon of the austenite in wt%, None where there is none."""

    austenite: float
    ferrite: float
    carbide: float
    austenite_carbon_wt: float | None


@dataclass(frozen=True)
class AfterSoak:
    """What a short soak has dissolved. `austenite` is the austenite's analysis at the middle value."""

    austenite_carbon_wt: Estimate
    carbide: Estimate
    austenite: Composition


@dataclass(frozen=True)
class SteelState:
    """A steel at a temperature and quenched from it; None where nothing sound is known (see notices)."""

    temperature_c: float
    start: Start
    ae1_c: Estimate | None
    ae3_c: Estimate | None
    acm_c: Estimate | None
    equilibrium: EquilibriumAmounts | None
    after_soak: AfterSoak | None
    ms_c: Estimate | None
    retained_austenite: Estimate | None
    hrc: Estimate | None
    notices: tuple[Reason, ...]


@dataclass(frozen=True)
class Varied:
    """A layer at its heat as the plan takes it (sample 0) and with one input moved in every other sample.

    `wt` its analysis, `dissolved_wt` that of its austenite, `hrc` as quenched; each (samples,).
    """

    wt: Mapping[str, Array]
    dissolved_wt: Mapping[str, Array]
    hrc: Array


def austenitised_state(
    composition: Composition, temperature_c: float, start: Start = "normalised"
) -> SteelState:
    """State at `temperature_c` after a soak from this structure, then quenched to 20 C.

    The bands are those of the formulas and of what two laboratories find in one bar. The upper end of
    retained austenite stands at 60 C, for a blade tempered straight from the oil. Raises OutOfDomain under
    450 C and for what is no temperature. Above the solidus and over 5 % chromium nothing is computed.
    """
    (state,) = states_of([(of_composition(composition, start), temperature_c)])
    return state


def of_composition(composition: Composition, start: Start = "normalised") -> LayerSamples:
    """A steel known by its analysis alone, as a layer of its own and a sample of one."""
    wt = {e: np.array([v]) for e, v in composition.wt.items()}
    wt.setdefault("C", np.zeros(1))
    return LayerSamples.plain(wt, CellCarbon(wt["C"][:, None], np.ones(1)), start, 1)


def states_of(
    asked: Sequence[tuple[LayerSamples, float]], decided: Sequence[Lines] | None = None
) -> tuple[SteelState, ...]:
    """State of the first sample of each layer at its temperature, all of one start, in one solution.

    `decided` are the lines of each where they were solved before. Raises OutOfDomain for what is no
    temperature and under 450 C.
    """
    return tuple(state for state, _ in varied_states(asked, decided))


def varied_states(
    asked: Sequence[tuple[LayerSamples, float]], decided: Sequence[Lines] | None = None
) -> tuple[tuple[SteelState, Varied | None], ...]:
    """`states_of` with the samples that the bands were drawn from; None where nothing is computed."""
    for _, temperature_c in asked:
        if not np.isfinite(temperature_c):
            raise OutOfDomain("temperature_c", temperature_c, "a finite number")
    refused = _refused(asked)
    kept = [place for place, why in enumerate(refused) if why is None]
    lines = None if decided is None else [decided[place].first() for place in kept]
    found = iter(_solved([asked[place] for place in kept], lines))
    return tuple(
        next(found) if why is None else (_untold(layer, c, why), None)
        for (layer, c), why in zip(asked, refused, strict=True)
    )


def middle_hardness(asked: Sequence[tuple[LayerSamples, float]]) -> list[tuple[float, float] | None]:
    """Hardness [HRC] and retained austenite of each as `states_of` has them, without bands; all of one
    start, in one solution. None where nothing is computed."""
    kept = [place for place, why in enumerate(_refused(asked)) if why is None]
    found: list[tuple[float, float] | None] = [None] * len(asked)
    if not kept:
        return found
    layers = [asked[at][0] for at in kept]
    elements = sorted({element for layer in layers for element in layer.wt})
    wt = {e: np.array([layer.wt[e][0] if e in layer.wt else 0.0 for layer in layers]) for e in elements}
    heat = np.array([asked[at][1] for at in kept])
    samples = austenitised(wt, heat, asked[0][0].start, FormulaErrors.none(len(kept)))
    for at, there, hrc, kept_frac in zip(
        kept, samples.austenite >= LEAST_AUSTENITE_FRAC, samples.hrc, samples.retained_austenite, strict=True
    ):
        if there:
            found[at] = max(float(hrc), 0.0), min(max(float(kept_frac), 0.0), 1.0)
    return found


def _untold(layer: LayerSamples, temperature_c: float, why: Reason) -> SteelState:
    return SteelState(temperature_c, layer.start, None, None, None, None, None, None, None, None, (why,))


def _refused(asked: Sequence[tuple[LayerSamples, float]]) -> list[Reason | None]:
    """Why nothing is computed of each; None where something is. Each layer's analysis is looked at once."""
    bounds = {id(layer): _bound(layer.analysis()) for layer in {id(one): one for one, _ in asked}.values()}
    return [_refused_at(bounds[id(layer)], c) for layer, c in asked]


def _bound(composition: Composition) -> Reason | float:
    """Why nothing is ever computed of a steel, else the temperature from which nothing is. [C]"""
    if is_austenitic(composition):
        return Reason("state-austenitic")
    if is_high_alloy(composition):
        return Reason("state-high-alloy", low_alloy_limits())
    return melts_from_c(composition)


def _refused_at(bound: Reason | float, temperature_c: float) -> Reason | None:
    if isinstance(bound, Reason):
        return bound
    return Reason("state-melts", {"melts_c": bound}) if temperature_c >= bound else None


def _solved(
    asked: Sequence[tuple[LayerSamples, float]], lines: Sequence[CriticalLines] | None
) -> list[tuple[SteelState, Varied | None]]:
    if not asked:
        return []
    if lines is None:
        lines = [critical_lines(layer.analysis()) for layer, _ in asked]
    moved = [perturbed(layer) for layer, _ in asked]
    wt, errors = concatenated(moved)
    heat = np.concatenate([np.full(m.samples, c) for m, (_, c) in zip(moved, asked, strict=True)])
    samples = austenitised(wt, heat, asked[0][0].start, errors)
    ends = [0, *itertools.accumulate(m.samples for m in moved)]
    parts = [_part(samples, first, end) for first, end in itertools.pairwise(ends)]
    return [
        (_state(layer, part, c, own), _varied(one, part))
        for (layer, c), one, part, own in zip(asked, moved, parts, lines, strict=True)
    ]


def _varied(moved: Perturbed, s: AusteniteSamples) -> Varied | None:
    return Varied(moved.wt, s.dissolved_wt, s.hrc) if s.austenite[0] > 0.0 else None


def _part(samples: AusteniteSamples, first: int, end: int) -> AusteniteSamples:
    fields = {name: getattr(samples, name) for name in AusteniteSamples.__dataclass_fields__}
    cut: dict[str, Any] = {
        name: {e: v[first:end] for e, v in value.items()} if isinstance(value, dict) else value[first:end]
        for name, value in fields.items()
    }
    return AusteniteSamples(**cut)


def _state(
    layer: LayerSamples, s: AusteniteSamples, temperature_c: float, lines: CriticalLines
) -> SteelState:
    composition = layer.analysis()
    ae1, ae3, acm = line_estimates(lines)
    austenite, ferrite = float(s.austenite[0]), float(s.ferrite[0])
    there = austenite >= LEAST_AUSTENITE_FRAC
    amounts = EquilibriumAmounts(
        austenite,
        ferrite,
        float(s.carbide_at_equilibrium[0]),
        float(s.equilibrium_carbon_wt[0]) if austenite > 0.0 else None,
    )
    notices = (*_too_hot(temperature_c, composition), *_notices(composition, ferrite, austenite))
    if not there:
        cold = (Reason("state-no-austenite"), *notices)
        return SteelState(temperature_c, layer.start, ae1, ae3, acm, amounts, None, None, None, None, cold)
    dissolved = Composition({e: float(v[0]) for e, v in s.dissolved_wt.items() if v[0] > 0.0})
    soaked = AfterSoak(band(s.dissolved_wt["C"], least=0.0), band(s.carbide, least=0.0), dissolved)
    return SteelState(
        temperature_c,
        layer.start,
        ae1,
        ae3,
        acm,
        amounts,
        soaked,
        band(s.ms_c),
        _retained(s),
        band(s.hrc, least=0.0),
        notices,
    )


def _retained(s: AusteniteSamples) -> Estimate:
    """Retained austenite at 20 C; blades are tempered anywhere between there and a warm bath, so the upper
    end stands higher by what the bath keeps."""
    at_room = band(s.retained_austenite, least=0.0, most=1.0)
    warm = float(retained_austenite_of(s.dissolved_wt, s.ms_c, BATH_C)[0]) - at_room.value
    high = at_room.high + warm
    return Estimate(at_room.value, at_room.low, min(high, 1.0))


def _too_hot(temperature_c: float, composition: Composition) -> tuple[Reason, ...]:
    melts_c = melts_from_c(composition)
    if temperature_c <= melts_c - decision_numbers("burning")["below_solidus_k"]:
        return ()
    return (Reason("state-burns", {"melts_c": melts_c}),)


def line_estimates(lines: CriticalLines) -> LineBands:
    """Ae1, Ae3 and Acm with their bands. [C]"""
    errors = decision_numbers("state")
    return (
        _around(lines.ae1_c, errors["ae1_error_k"]),
        _around(lines.ae3_c, errors["ae3_error_k"]),
        _around(lines.acm_c, errors["acm_error_k"]),
    )


def line_bands(moved: Lines) -> LineBands:
    """Ae1, Ae3 and Acm of a layer over its analyses and the errors of the lines. [C]"""
    errors = decision_numbers("state")
    return (
        band_around(moved.ae1_c, errors["ae1_error_k"]),
        band_around(moved.ae3_c, errors["ae3_error_k"]),
        band_around(moved.acm_c, errors["acm_error_k"]),
    )


def _around(value: float | None, error: float) -> Estimate | None:
    return None if value is None else Estimate(value, value - error, value + error)


def _notices(composition: Composition, ferrite: float, austenite: float) -> tuple[Reason, ...]:
    told = [
        Reason("state-untested", {"element": o.name, "wt": o.value, "low_wt": o.low, "high_wt": o.high})
        for o in outside_range(composition)
    ]
    if ferrite > LEAST_AUSTENITE_FRAC and austenite > LEAST_AUSTENITE_FRAC:
        told.append(Reason("state-ferrite", {"ferrite": ferrite}))
    return tuple(told)
