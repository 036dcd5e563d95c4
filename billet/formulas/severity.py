"""From the ideal diameter to the real one: quench severity and the half-temperature criterion.

Grossmann's severity is H = h / (2 k), in 1/inch. A bar hardens to its centre when the centre falls to
half the difference from the bath as fast as the centre of the ideal bar does. Solved from the exact
series for a long cylinder and for a plate. Severities are rough words: treat results as +-15 %.
"""

from collections.abc import Callable
from functools import cache

import numpy as np
from numpy.typing import NDArray

from billet.formulas.domain import refuse_not_positive
from billet.published import published
from billet.units import MM_PER_INCH

Array = NDArray[np.float64]
ModeEquation = Callable[[Array, float], tuple[Array, Array]]

STEEL_CONDUCTIVITY_W_M_K = 30.0
IDEAL_CYLINDER_FOURIER = 0.200524
BESSEL_POINTS = 32
# Where the roots of a mode lie: from a zero of J1 to the next zero of J0, and for the plate from a
# multiple of pi to half of pi more. Four modes carry the half temperature to better than 1e-6.
CYLINDER_LOW = np.array([0.0, 3.8317059702, 7.0155866698, 10.1734681351])
CYLINDER_HIGH = np.array([2.4048255577, 5.5200781103, 8.6537279129, 11.7915344391])
PLATE_LOW = np.pi * np.arange(4.0)
PLATE_HIGH = PLATE_LOW + 0.5 * np.pi
# Both mode equations rise through the first root, fall through the second, and so on.
MODE_SIGN = np.array([1.0, -1.0, 1.0, -1.0])


def _bessel_j0_j1(x: Array) -> tuple[Array, Array]:
    """J0 and J1 by the midpoint rule on Bessel's integral, exact to rounding for x under 12."""
    angle = np.pi * (np.arange(BESSEL_POINTS) + 0.5) / BESSEL_POINTS
    phase = x[:, None] * np.sin(angle)
    return np.cos(phase).mean(axis=1), np.cos(angle - phase).mean(axis=1)


def _cylinder_mode(x: Array, biot: float) -> tuple[Array, Array]:
    """x J1(x) - Bi J0(x) and its slope."""
    j0, j1 = _bessel_j0_j1(x)
    return x * j1 - biot * j0, x * j0 + biot * j1


def _plate_mode(x: Array, biot: float) -> tuple[Array, Array]:
    """x sin(x) - Bi cos(x) and its slope."""
    sine, cosine = np.sin(x), np.cos(x)
    return x * sine - biot * cosine, (1.0 + biot) * sine + x * cosine


def _modes(mode: ModeEquation, low: Array, high: Array, biot: float) -> Array:
    """Roots of a mode equation, one in each bracket: Newton, halving where it would leave. (4,)"""
    x = 0.5 * (low + high)
    for _ in range(60):
        value, slope = mode(x, biot)
        past_root = value * MODE_SIGN > 0.0
        low, high = np.where(past_root, low, x), np.where(past_root, x, high)
        newton = x - value / slope
        inside = (newton >= low) & (newton <= high)
        following = np.where(inside, newton, 0.5 * (low + high))
        if np.all(np.abs(following - x) < 1e-12):
            return following
        x = following
    return x


def _half_fourier(squares: Array, amplitudes: Array) -> float:
    """Fourier number at which the sum of the modes is one half."""
    fourier = max(np.log(2.0 * amplitudes[0]) / squares[0], 0.02)
    for _ in range(30):
        decay = amplitudes * np.exp(-squares * fourier)
        step = (np.sum(decay) - 0.5) / np.sum(squares * decay)
        fourier += step
        if abs(step) < 1e-12 * fourier:
            break
    return float(fourier)


@cache
def half_fourier_cylinder(biot: float) -> float:
    """Fourier number at which the centre of a cylinder is at half temperature. [1]

    Counted with the radius, as `biot` = h radius / k is. Raises OutOfDomain unless it is above 0.
    """
    refuse_not_positive("biot", biot)
    roots = _modes(_cylinder_mode, CYLINDER_LOW, CYLINDER_HIGH, biot)
    j0, j1 = _bessel_j0_j1(roots)
    return _half_fourier(roots**2, 2.0 * j1 / (roots * (j0**2 + j1**2)))


@cache
def half_fourier_plate(biot: float) -> float:
    """Fourier number at which the middle of a plate is at half temperature. [1]

    Counted with half the thickness, as `biot` = h half thickness / k is.
    Raises OutOfDomain unless it is above 0.
    """
    refuse_not_positive("biot", biot)
    roots = _modes(_plate_mode, PLATE_LOW, PLATE_HIGH, biot)
    return _half_fourier(roots**2, 4.0 * np.sin(roots) / (2.0 * roots + np.sin(2.0 * roots)))


def _solve_size_in(half_fourier: Callable[[float], float], ideal_in: float, severity_per_in: float) -> float:
    """Size that passes half temperature as fast as the ideal bar; secant in logarithms."""
    target = np.log(IDEAL_CYLINDER_FOURIER * (severity_per_in * ideal_in) ** 2)

    def excess(log_biot: float) -> float:
        return float(np.log(half_fourier(float(np.exp(log_biot)))) + 2.0 * log_biot - target)

    # A thin size is lumped, Fo Bi = ln 2 / 2 or so; a thick one is the ideal bar itself.
    before = float(min(target - np.log(0.5), 0.5 * target + 0.8))
    now = before + 0.1
    excess_before, excess_now = excess(before), excess(now)
    for _ in range(40):
        if abs(excess_now) < 1e-10:
            break
        step = excess_now * (now - before) / (excess_now - excess_before)
        before, excess_before = now, excess_now
        now -= step
        excess_now = excess(now)
    return float(np.exp(now)) / severity_per_in


@published(
    "grossmann-half-temperature",
    where="half-temperature criterion, exact series for a long cylinder",
    equation="Fo_half(Bi = H D) D^2 = 0.2005 DI^2",
    unit="in",
    note="Own solution of the criterion; the charts of the handbooks were not compared. +-15 %.",
    severity_per_in=(0.02, 10.0),
)
@cache
def critical_diameter_in(ideal_diameter_in: float, severity_per_in: float) -> float:
    """Diameter of the bar that has half martensite at its centre in a real bath. [in]

    Raises OutOfDomain unless both are above 0.
    """
    refuse_not_positive("ideal_diameter_in", ideal_diameter_in)
    refuse_not_positive("severity_per_in", severity_per_in)
    return _solve_size_in(half_fourier_cylinder, ideal_diameter_in, severity_per_in)


@published(
    "grossmann-half-temperature",
    where="half-temperature criterion, exact series for a plate cooled on both faces",
    equation="Fo_half(Bi = H L) L^2 = 0.2005 DI^2 with L the thickness",
    unit="in",
    note="Own solution of the criterion; the charts of the handbooks were not compared. +-15 %.",
    severity_per_in=(0.02, 10.0),
)
@cache
def critical_plate_thickness_in(ideal_diameter_in: float, severity_per_in: float) -> float:
    """Thickness of the plate that has half martensite in its middle in a real bath. [in]

    Raises OutOfDomain unless both are above 0.
    """
    refuse_not_positive("ideal_diameter_in", ideal_diameter_in)
    refuse_not_positive("severity_per_in", severity_per_in)
    return _solve_size_in(half_fourier_plate, ideal_diameter_in, severity_per_in)


@published(
    "totten-1993",
    where="definition of the severity",
    equation="h = 2 k H",
    unit="W/m2 K",
    note="The coefficient is usually taken at 705 C; k of austenite there about 30 W/m K.",
)
def severity_to_coefficient_w_m2_k(
    severity_per_in: float, conductivity_w_m_k: float = STEEL_CONDUCTIVITY_W_M_K
) -> float:
    """Coefficient of heat transfer that a severity stands for. [W/m2 K]"""
    refuse_not_positive("severity_per_in", severity_per_in)
    refuse_not_positive("conductivity_w_m_k", conductivity_w_m_k)
    return 2.0 * conductivity_w_m_k * severity_per_in * 1000.0 / MM_PER_INCH
