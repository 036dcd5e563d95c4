"""What a steel is at a temperature: at equilibrium, after a short soak, and once quenched from there."""

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from billet.composition import Composition
from billet.contract.report import Estimate
from billet.contract.values import Reason
from billet.errors import OutOfDomain
from billet.formulas.equilibrium import CriticalLines, critical_lines, outside_range
from billet.formulas.martensite import retained_austenite_of
from billet.hardening.austenite import AusteniteSamples, austenitised
from billet.hardening.bands import Perturbed, concatenated, off_bands, perturbed
from billet.hardening.critical_lines import Lines
from billet.hardening.layer import is_austenitic, is_high_alloy, low_alloy_limits
from billet.hardening.line_bands import LineBands, line_estimates
from billet.hardening.samples import Array, CellCarbon, FormulaErrors, LayerSamples, one_start
from billet.recipe.melting import melts_from_c
from billet.tables.practice import decision_numbers
from billet.tables.steels import Start

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
    known = _each_known(asked)
    refused = [one.refused(c) for one, (_, c) in zip(known, asked, strict=True)]
    kept = [place for place, why in enumerate(refused) if why is None]
    lines = None if decided is None else [decided[place].first() for place in kept]
    found = iter(_solved([(known[place], asked[place][1]) for place in kept], lines))
    return tuple(
        next(found) if why is None else (_untold(layer, c, why), None)
        for (layer, c), why in zip(asked, refused, strict=True)
    )


@dataclass(frozen=True)
class _Known:
    """What holds of a layer at every temperature: its analysis, where it begins to melt, why nothing is
    computed of it, and what of it lies outside the compositions that were tried."""

    layer: LayerSamples
    composition: Composition
    melts_c: float
    never: Reason | None
    untested: tuple[Reason, ...]

    def refused(self, temperature_c: float) -> Reason | None:
        """Why nothing is computed at a temperature; None where it is."""
        if self.never is None and temperature_c >= self.melts_c:
            return Reason("state-melts", {"melts_c": self.melts_c})
        return self.never


def _each_known(asked: Sequence[tuple[LayerSamples, float]]) -> list[_Known]:
    """Of the layer of each; one that is asked at several temperatures is looked at once."""
    found = {id(layer): layer for layer, _ in asked}
    known = {key: _known(layer) for key, layer in found.items()}
    return [known[id(layer)] for layer, _ in asked]


def _known(layer: LayerSamples) -> _Known:
    composition, never = layer.analysis(), None
    if is_austenitic(composition):
        never = Reason("state-austenitic")
    elif is_high_alloy(composition):
        never = Reason("state-high-alloy", low_alloy_limits())
    untested = tuple(
        Reason("state-untested", {"element": o.name, "wt": o.value, "low_wt": o.low, "high_wt": o.high})
        for o in outside_range(composition)
    )
    return _Known(layer, composition, melts_from_c(composition), never, untested)


def middle_hardness(asked: Sequence[tuple[LayerSamples, float]]) -> list[tuple[float, float] | None]:
    """Hardness [HRC] and retained austenite of each as `states_of` has them, without bands; all of one
    start, in one solution. None where nothing is computed."""
    known = _each_known(asked)
    kept = [place for place, (_, c) in enumerate(asked) if known[place].refused(c) is None]
    found: list[tuple[float, float] | None] = [None] * len(asked)
    if not kept:
        return found
    exact = [Perturbed({e: v[:1] for e, v in asked[at][0].wt.items()}, FormulaErrors.none(1)) for at in kept]
    wt, errors = concatenated(exact)
    start = one_start([asked[at][0] for at in kept])
    samples = austenitised(wt, np.array([asked[at][1] for at in kept]), start, errors)
    for at, there, hrc, kept_frac in zip(
        kept, samples.austenite >= LEAST_AUSTENITE_FRAC, samples.hrc, samples.retained_austenite, strict=True
    ):
        if there:
            found[at] = max(float(hrc), 0.0), min(max(float(kept_frac), 0.0), 1.0)
    return found


def _untold(layer: LayerSamples, temperature_c: float, why: Reason) -> SteelState:
    return SteelState(temperature_c, layer.start, None, None, None, None, None, None, None, None, (why,))


def _solved(
    asked: Sequence[tuple[_Known, float]], lines: Sequence[CriticalLines] | None
) -> list[tuple[SteelState, Varied | None]]:
    if not asked:
        return []
    if lines is None:
        lines = [critical_lines(known.composition) for known, _ in asked]
    layers = {id(known): known.layer for known, _ in asked}
    of_layer = {key: perturbed(layer) for key, layer in layers.items()}
    moved = [of_layer[id(known)] for known, _ in asked]
    wt, errors = concatenated(moved)
    sizes = [one.samples for one in moved]
    heat_c, start = np.repeat([c for _, c in asked], sizes), one_start(list(layers.values()))
    samples = austenitised(wt, heat_c, start, errors)
    ends = [0, *itertools.accumulate(sizes)]
    quenched = _quenched(samples, ends[:-1])
    bands = {id(known): line_estimates(own) for (known, _), own in zip(asked, lines, strict=True)}
    found = []
    for place, ((known, c), one) in enumerate(zip(asked, moved, strict=True)):
        here = slice(ends[place], ends[place + 1])
        state = _state(known, samples, here.start, c, bands[id(known)], quenched[place])
        varied = None
        if samples.austenite[here.start] > 0.0:
            dissolved = {e: v[here] for e, v in samples.dissolved_wt.items()}
            varied = Varied(one.wt, dissolved, samples.hrc[here])
        found.append((state, varied))
    return found


@dataclass(frozen=True)
class _Quenched:
    """What a short soak has dissolved and what the quench makes of it."""

    carbon_wt: Estimate
    carbide: Estimate
    ms_c: Estimate
    retained_austenite: Estimate
    hrc: Estimate


def _quenched(s: AusteniteSamples, starts: Sequence[int]) -> list[_Quenched]:
    """Of every steel whose samples begin at one of these places.

    Retained austenite is that at 20 C; blades are tempered anywhere between there and a warm bath, so the
    upper end stands higher by what the bath keeps.
    """
    told = np.stack([s.dissolved_wt["C"], s.carbide, s.ms_c, s.retained_austenite, s.hrc])
    values = told[:, starts]
    down, up = off_bands(told, starts)
    first = {e: v[starts] for e, v in s.dissolved_wt.items()}
    room = values[3]
    kept = np.minimum(room + up[3], 1.0) + (retained_austenite_of(first, s.ms_c[starts], BATH_C) - room)
    low, high = values - down, values + up
    low[[0, 1, 3, 4]] = np.maximum(low[[0, 1, 3, 4]], 0.0)
    high[3] = np.minimum(kept, 1.0)
    each = np.stack([values, low, high], axis=-1).transpose(1, 0, 2).tolist()
    return [_Quenched(*(Estimate(*one) for one in steel)) for steel in each]


def _state(
    known: _Known,
    s: AusteniteSamples,
    at: int,
    temperature_c: float,
    lines: LineBands,
    quenched: _Quenched,
) -> SteelState:
    """Of the steel whose first sample stands at this place."""
    start = known.layer.start
    ae1, ae3, acm = lines
    austenite, ferrite = float(s.austenite[at]), float(s.ferrite[at])
    there = austenite >= LEAST_AUSTENITE_FRAC
    amounts = EquilibriumAmounts(
        austenite,
        ferrite,
        float(s.carbide_at_equilibrium[at]),
        float(s.equilibrium_carbon_wt[at]) if austenite > 0.0 else None,
    )
    notices = (*_too_hot(temperature_c, known.melts_c), *known.untested, *_beside(ferrite, austenite))
    if not there:
        cold = (Reason("state-no-austenite"), *notices)
        return SteelState(temperature_c, start, ae1, ae3, acm, amounts, None, None, None, None, cold)
    dissolved = Composition({e: float(v[at]) for e, v in s.dissolved_wt.items() if v[at] > 0.0})
    return SteelState(
        temperature_c,
        start,
        ae1,
        ae3,
        acm,
        amounts,
        AfterSoak(quenched.carbon_wt, quenched.carbide, dissolved),
        quenched.ms_c,
        quenched.retained_austenite,
        quenched.hrc,
        notices,
    )


def _too_hot(temperature_c: float, melts_c: float) -> tuple[Reason, ...]:
    if temperature_c <= melts_c - decision_numbers("burning")["below_solidus_k"]:
        return ()
    return (Reason("state-burns", {"melts_c": melts_c}),)


def _beside(ferrite: float, austenite: float) -> tuple[Reason, ...]:
    if ferrite > LEAST_AUSTENITE_FRAC and austenite > LEAST_AUSTENITE_FRAC:
        return (Reason("state-ferrite", {"ferrite": ferrite}),)
    return ()
