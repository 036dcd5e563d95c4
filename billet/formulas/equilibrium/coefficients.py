"""The published parameters brought into the dilute form that is solved, tabulated over temperature.

For each phase the metals mix on one lattice around iron. Everything is in units of RT and against the
infinitely dilute metal in austenite, carbon against graphite:

    austenite   ln a_j = ln u_j + [j = Fe: 0] + L(u) + ln(1-y) - k y^2/2 + y (eps_j - sum eps u)
    ferrite     ln a_j = ln u_j + g_j + L'(u) - y_ferrite
    carbide     ln a_j + n ln a_C = ln u_j + g_j      (n: carbon atoms for one metal atom)
    austenite   ln a_C = const + ln(y/(1-y)) + k y + sum eps u,  k = 69342/(RT)
    L_j(u)      = sum_k e_jk u_k - 1/2 sum_ik e_ik u_i u_k

u: atoms of a metal for one metal atom, y: carbon atoms for one metal atom. The two forms for austenite
are one Gibbs energy (Gibbs-Duhem holds), so no condition can be met by two different carbons.
"""

from functools import cache

import numpy as np
from numpy.typing import NDArray

from billet.formulas.equilibrium import assessed, calibrated, pure
from billet.formulas.equilibrium.assessed import ALLOYING, ELEMENTS, Linear
from billet.formulas.equilibrium.pure import GAS_CONSTANT

Array = NDArray[np.float64]

AUSTENITE, FERRITE, CEMENTITE, M7C3, M6C, VANADIUM_CARBIDE, TUNGSTEN_CARBIDE = range(7)
PHASES = 7
CARBIDES = (CEMENTITE, M7C3, M6C)
CARBON_PER_METAL = (0.0, 0.0, 1.0 / 3.0, 3.0 / 7.0, 1.0 / 6.0, 0.9, 1.0)
ABSENT = 60.0  # a metal with this term does not enter the phase

LOWEST_K, HIGHEST_K, STEP_K = 673.15, 1773.15, 4.0
METALS = len(ELEMENTS)
SIZE = PHASES * METALS + METALS + 2 * METALS * METALS + 2
INDEX = {element: position for position, element in enumerate(ELEMENTS)}


class BLOCK:
    """Where each group of coefficients stands in one row of the table."""

    transfer = slice(0, PHASES * METALS)
    carbon = slice(PHASES * METALS, (PHASES + 1) * METALS)
    austenite = slice((PHASES + 1) * METALS, (PHASES + 1 + METALS) * METALS)
    ferrite = slice((PHASES + 1 + METALS) * METALS, (PHASES + 1 + 2 * METALS) * METALS)
    const = SIZE - 2
    const_ferrite = SIZE - 1


def _value(term: Linear, t: Array) -> Array:
    return term[0] + term[1] * t


def _dilute(terms: tuple[Linear, ...], t: Array) -> Array:
    """Energy of one atom among iron alone."""
    total: Array = np.sum([_value(term, t) for term in terms], axis=0)
    return total


def _slope(terms: tuple[Linear, ...], t: Array) -> Array:
    """How that energy is shared with a second alloying element."""
    total: Array = np.sum([(1 + order) * _value(term, t) for order, term in enumerate(terms)], axis=0)
    return total


def _curvature(terms: tuple[Linear, ...], t: Array) -> Array:
    """Interaction of an element with itself."""
    total: Array = -np.sum([(2 + 4 * order) * _value(term, t) for order, term in enumerate(terms)], axis=0)
    return total


def _magnetic_slopes(t: Array) -> dict[str, Array]:
    """First and second derivatives of the magnetic energy of iron by Curie temperature and moment."""
    dk, dm = 4.0, 0.02

    def energy(curie: float, moment: float) -> Array:
        return pure.magnetic(t, pure.IRON_CURIE_K + curie, pure.IRON_MOMENT + moment, 0.4)

    middle = energy(0.0, 0.0)
    cross = (energy(dk, dm) - energy(-dk, dm) - energy(dk, -dm) + energy(-dk, -dm)) / (4.0 * dk * dm)
    return {
        "energy": middle,
        "c": (energy(dk, 0.0) - energy(-dk, 0.0)) / (2.0 * dk),
        "m": (energy(0.0, dm) - energy(0.0, -dm)) / (2.0 * dm),
        "cc": (energy(2.0 * dk, 0.0) - 2.0 * middle + energy(-2.0 * dk, 0.0)) / (4.0 * dk**2),
        "mm": (energy(0.0, dm) - 2.0 * middle + energy(0.0, -dm)) / dm**2,
        "cm": cross,
    }


def _corrected(values: calibrated.Corrections, element: str, t: Array) -> Array:
    constant, slope = values.get(element, (0.0, 0.0))
    return constant + slope * (1000.0 / t - 0.95)


def _in_austenite(t: Array) -> dict[str, Array]:
    """Infinitely dilute metal in austenite over its own reference form. [J/mol]"""
    return {e: pure.as_austenite(e, t) + _dilute(assessed.AUSTENITE_WITH_IRON[e].terms, t) for e in ALLOYING}


def _ferrite_terms(t: Array, dilute: dict[str, Array], magnetic: dict[str, Array], out: Array) -> None:
    rt = GAS_CONSTANT * t
    out[:, FERRITE, 0] = (pure.iron_ferrite(t) - pure.iron_austenite(t)) / rt
    for e in ALLOYING:
        lift = assessed.FERRITE_MAGNETISM[e]
        energy = pure.as_ferrite(e, t) + _dilute(assessed.FERRITE_WITH_IRON[e].terms, t) - dilute[e]
        energy = energy + magnetic["energy"] + magnetic["c"] * lift.curie_k + magnetic["m"] * lift.moment
        out[:, FERRITE, INDEX[e]] = energy / rt + _corrected(calibrated.FERRITE, e, t)


def _cementite_terms(t: Array, dilute: dict[str, Array], out: Array) -> None:
    rt, carbon = GAS_CONSTANT * t, pure.graphite(t)
    out[:, CEMENTITE, 0] = (pure.iron_carbide(t) - 3.0 * pure.iron_austenite(t) - carbon) / (3.0 * rt)
    for e, row in assessed.CEMENTITE.items():
        energy = (_value(row.formation, t) + _value(row.with_iron, t)) / 3.0 - dilute[e]
        out[:, CEMENTITE, INDEX[e]] = energy / rt + _corrected(calibrated.CEMENTITE, e, t)
    # V3C is given absolutely (Huang 1991)
    absolute = -156971.0 + 601.922 * t - 100.438 * t * np.log(t) + 765557.0 / t - 45873.0 - 12.414 * t
    energy = (absolute - 3.0 * pure.vanadium(t) - carbon) / 3.0 - dilute["V"]
    out[:, CEMENTITE, INDEX["V"]] = energy / rt + _corrected(calibrated.CEMENTITE, "V", t)


def _m7c3_terms(t: Array, dilute: dict[str, Array], out: Array) -> None:
    rt, carbon = GAS_CONSTANT * t, pure.graphite(t)
    mixing = _value(assessed.M7C3_CHROMIUM_IRON, t)
    base = 13200.0 + 7.0 / 3.0 * pure.iron_carbide(t) + 2.0 / 3.0 * carbon - 3.0 * carbon  # Djurovic 2011
    energy = {"Fe": (base + assessed.M7C3_SHARE_IRON * mixing) / 7.0 - pure.iron_austenite(t)}
    # Cr7C3 and V7C3 are given absolutely (Lee 1992, Huang 1991)
    chromium = -201690.0 + 1103.128 * t - 190.177 * t * np.log(t) - 0.0578207 * t**2
    chromium = chromium - 7.0 * pure.chromium(t) - 3.0 * carbon + assessed.M7C3_SHARE_CHROMIUM * mixing
    vanadium = -454245.0 + 1518.48 * t - 250.981 * t * np.log(t) - 7.0 * pure.vanadium(t) - 3.0 * carbon
    energy["Cr"], energy["V"] = chromium / 7.0 - dilute["Cr"], vanadium / 7.0 - dilute["V"]
    for e, row in assessed.M7C3.items():
        energy[e] = (_value(row.formation, t) + _value(row.with_iron, t)) / 7.0 - dilute[e]
    for e, value in energy.items():
        out[:, M7C3, INDEX[e]] = value / rt + _corrected(calibrated.M7C3, e, t)


def _other_carbides(t: Array, dilute: dict[str, Array], out: Array) -> None:
    rt = GAS_CONSTANT * t
    for e in calibrated.M6C:
        out[:, M6C, INDEX[e]] = _corrected(calibrated.M6C, e, t)
    for e in calibrated.VANADIUM_CARBIDE:
        out[:, VANADIUM_CARBIDE, INDEX[e]] = _corrected(calibrated.VANADIUM_CARBIDE, e, t)
    # molybdenum in MC and in WC: Andersson 1988
    molybdenum = -7500.0 - 8.3 * t - 750000.0 / t - dilute["Mo"]
    out[:, VANADIUM_CARBIDE, INDEX["Mo"]] = molybdenum / rt
    out[:, TUNGSTEN_CARBIDE, INDEX["Mo"]] = (-32983.0 + 2.5 * t - dilute["Mo"]) / rt
    # WC is given absolutely (Gustafson 1987)
    carbide = -58192.0 + 287.16 * t - 46.48 * t * np.log(t) - 2.1435e-3 * t**2
    carbide = carbide - 9.2217e-8 * t**3 + 590500.0 / t
    energy = carbide - pure.tungsten(t) - pure.graphite(t) - dilute["W"]
    out[:, TUNGSTEN_CARBIDE, INDEX["W"]] = energy / rt + _corrected(calibrated.TUNGSTEN_CARBIDE, "W", t)


def _pair(
    table: dict[tuple[str, str], tuple[Linear, str]], extra: dict[tuple[str, str], float],
    a: str, b: str, t: Array,
) -> tuple[Array, Array]:  # fmt: skip
    key = (a, b) if a < b else (b, a)
    published, _ = table.get(key, ((0.0, 0.0), ""))
    return _value(published, t), extra.get(key, 0.0) / t


def _interactions(t: Array, ferrite: bool, magnetic: dict[str, Array]) -> Array:
    """Symmetric matrix e_jk, shape (temperatures, metals, metals); iron's row and column are 0."""
    with_iron = assessed.FERRITE_WITH_IRON if ferrite else assessed.AUSTENITE_WITH_IRON
    table = assessed.FERRITE_PAIRS if ferrite else assessed.AUSTENITE_PAIRS
    extra = calibrated.FERRITE_PAIRS_K if ferrite else calibrated.AUSTENITE_PAIRS_K
    rt = GAS_CONSTANT * t
    out = np.zeros((len(t), METALS, METALS))
    for a in ALLOYING:
        for b in ALLOYING:
            published, correction = _pair(table, extra, a, b, t)
            own = with_iron[a].terms
            if a == b:
                energy = _curvature(own, t)
            else:
                energy = published - _slope(own, t) - _slope(with_iron[b].terms, t)
            if ferrite:
                p, q = assessed.FERRITE_MAGNETISM[a], assessed.FERRITE_MAGNETISM[b]
                energy = energy + magnetic["cc"] * p.curie_k * q.curie_k
                energy = energy + magnetic["mm"] * p.moment * q.moment
                energy = energy + magnetic["cm"] * (p.curie_k * q.moment + q.curie_k * p.moment)
            out[:, INDEX[a], INDEX[b]] = energy / rt + correction
    return out


def carbon_interaction(element: str, t: Array) -> Array:
    """epsilon of a metal on carbon in austenite as used here: published plus calibrated."""
    constant, slope = assessed.CARBON_INTERACTION[element]
    return constant + slope / t + _corrected(calibrated.CARBON, element, t)


@cache
def table() -> Array:
    """All coefficients, one row each STEP_K from LOWEST_K to HIGHEST_K; made at first use."""
    t = np.arange(LOWEST_K, HIGHEST_K + 2.0 * STEP_K, STEP_K)
    rt = GAS_CONSTANT * t
    dilute, magnetic = _in_austenite(t), _magnetic_slopes(t)
    transfer = np.full((len(t), PHASES, METALS), ABSENT)
    transfer[:, AUSTENITE] = 0.0
    _ferrite_terms(t, dilute, magnetic, transfer)
    _cementite_terms(t, dilute, transfer)
    _m7c3_terms(t, dilute, transfer)
    _other_carbides(t, dilute, transfer)
    carbon = np.zeros((len(t), METALS))
    for e in ALLOYING:
        carbon[:, INDEX[e]] = carbon_interaction(e, t)
    out = np.empty((len(t), SIZE))
    out[:, BLOCK.transfer] = transfer.reshape(len(t), -1)
    out[:, BLOCK.carbon] = carbon
    out[:, BLOCK.austenite] = _interactions(t, False, magnetic).reshape(len(t), -1)
    out[:, BLOCK.ferrite] = _interactions(t, True, magnetic).reshape(len(t), -1)
    out[:, BLOCK.const] = 42536.0 / rt - 15.877 / GAS_CONSTANT  # Gustafson 1985
    # carbon in ferrite, dilute: 322050 + 75.667 T - 190 T for three sites (Gustafson 1985)
    out[:, BLOCK.const_ferrite] = (322050.0 - 114.333 * t) / (3.0 * rt) - np.log(3.0)
    return out
