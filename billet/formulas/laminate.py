"""Diffusion in closed form: a laminate of two layers, a surface held, a surface that scales away."""

import math

from billet.errors import OutOfDomain
from billet.published import published

_TERMS = 4000


def _terms(decay: float) -> int:
    """Terms of the series that still count: exp(-decay n^2) above 1e-17."""
    return _TERMS if decay <= 0.0 else min(_TERMS, int(math.sqrt(39.2 / decay)) + 2)


@published(
    "crank-1975",
    where="series for a repeated initial distribution, re-derived",
    equation="c = f cA + (1-f) cB + (2/pi)(cA-cB) sum sin(n pi f)/n cos(n pi x/L) exp(-(n pi)^2 Dt/L^2)",
    unit="as given",
)
def laminate_content(
    content_a: float,
    content_b: float,
    share_a: float,
    half_period_um: float,
    position_um: float,
    diffusivity_m2_s: float,
    time_s: float,
) -> float:
    """Content in an endless laminate A B A B after a time; position counted from the centre of A.

    Raises OutOfDomain when share_a is not within 0 to 1 or a length is not above 0.
    """
    if not 0.0 < share_a < 1.0:
        raise OutOfDomain("share_a", share_a, "between 0 and 1")
    if not half_period_um > 0.0:
        raise OutOfDomain("half_period_um", half_period_um, "above 0")
    decay = math.pi**2 * diffusivity_m2_s * time_s / (half_period_um * 1e-6) ** 2
    total = sum(
        math.sin(n * math.pi * share_a)
        / n
        * math.cos(n * math.pi * position_um / half_period_um)
        * math.exp(-decay * n * n)
        for n in range(1, _terms(decay) + 1)
    )
    level = share_a * content_a + (1.0 - share_a) * content_b
    return level + 2.0 / math.pi * (content_a - content_b) * total


@published(
    "crank-1975",
    where="series for equal layers, at the centre of a layer",
    equation="(4/pi) sum over odd n of (-1)^((n-1)/2)/n exp(-(n pi)^2 tau)",
    unit="-",
)
def centre_amplitude(tau: float) -> float:
    """Share of the difference left between centres of equal layers; tau = D t / thickness^2."""
    if not tau >= 0.0:
        raise OutOfDomain("tau", tau, "0 or more")
    if tau < 1e-4:
        return 1.0
    decay = math.pi**2 * tau
    total = 0.0
    for n in range(1, _terms(decay) + 2, 2):
        total += (1.0 if n % 4 == 1 else -1.0) / n * math.exp(-decay * n * n)
    return 4.0 / math.pi * total


@published(
    "crank-1975",
    where="series for equal layers, mean of a layer",
    equation="(8/pi^2) sum over odd n of n^-2 exp(-(n pi)^2 tau)",
    unit="-",
)
def mean_contrast(tau: float) -> float:
    """Share of the difference left between the means of equal layers; tau = D t / thickness^2."""
    if not tau >= 0.0:
        raise OutOfDomain("tau", tau, "0 or more")
    decay = math.pi**2 * tau
    if tau < 1e-3:
        return 1.0 - 4.0 * math.sqrt(tau / math.pi)
    odd = range(1, _terms(decay) + 2, 2)
    return 8.0 / math.pi**2 * sum(math.exp(-decay * n * n) / (n * n) for n in odd)


@published(
    "crank-1975",
    where="series for equal layers, solved for tau",
    equation="centre_amplitude(tau) = share",
    unit="-",
)
def tau_for_amplitude(share: float) -> float:
    """D t / thickness^2 at which that share of the centres' difference is left (0 < share < 1)."""
    if not 0.0 < share < 1.0:
        raise OutOfDomain("share", share, "between 0 and 1")
    low, high = 0.0, 0.5 - math.log(share)
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if centre_amplitude(middle) > share else (low, middle)
    return 0.5 * (low + high)


@published(
    "crank-1975",
    where="half-space with the surface held",
    equation="C = Cs + (C0 - Cs) erf(x / 2 sqrt(Dt)), solved for x",
    unit="um",
)
def held_surface_depth_um(share: float, diffusivity_m2_s: float, time_s: float) -> float:
    """Depth at which (C - Cs)/(C0 - Cs) is `share`, below a surface held at Cs."""
    return 2e6 * _inverse_erf(share) * math.sqrt(diffusivity_m2_s * time_s)


@published(
    "crank-1975",
    where="half-space with the surface held, amount through the surface",
    equation="2 (C0 - Cs) rho sqrt(Dt/pi)",
    unit="g/m2",
)
def held_surface_loss_g_m2(
    start_wt: float, surface_wt: float, density_kg_m3: float, diffusivity_m2_s: float, time_s: float
) -> float:
    """Carbon that leaves one face held at `surface_wt`; negative where it enters."""
    depth_m = 2.0 * math.sqrt(diffusivity_m2_s * time_s / math.pi)
    return (start_wt - surface_wt) / 100.0 * density_kg_m3 * 1000.0 * depth_m


@published(
    "callister-2007",
    where="design example on carburising: depth and content given, time wanted",
    equation="(Cx - C0)/(Cs - C0) = 1 - erf(x / 2 sqrt(Dt)), solved for t",
    unit="h",
)
def held_surface_time_h(
    start_wt: float, surface_wt: float, wanted_wt: float, depth_mm: float, diffusivity_m2_s: float
) -> float:
    """Hours until the wanted content stands at a depth below a surface held at its content."""
    reach = _inverse_erf((surface_wt - wanted_wt) / (surface_wt - start_wt))
    return (depth_mm * 1e-3 / (2.0 * reach)) ** 2 / diffusivity_m2_s / 3600.0


@published(
    "birks-jackson-1970",
    where="decarburising behind a scale that grows by the square root of time",
    equation="(C0 - C)/(C0 - Cs) = erfc(x / 2 sqrt(Dt)) / erfc(sqrt(kc / 2D)), x from the old surface",
    unit="-",
    basis="memory",
)
def scaling_surface_content(
    start_wt: float,
    surface_wt: float,
    depth_um: float,
    recession_um: float,
    diffusivity_m2_s: float,
    time_s: float,
) -> float:
    """Carbon at a depth below the present surface, `recession_um` having gone as scale. [wt%]"""
    reach_um = 2e6 * math.sqrt(diffusivity_m2_s * time_s)
    lost = math.erfc((depth_um + recession_um) / reach_um) / math.erfc(recession_um / reach_um)
    return start_wt - (start_wt - surface_wt) * lost


def _inverse_erf(value: float) -> float:
    """x with erf(x) = value, by bisection; raises OutOfDomain outside 0 to 1."""
    if not 0.0 < value < 1.0:
        raise OutOfDomain("share of the difference", value, "between 0 and 1")
    low, high = 0.0, 6.0
    for _ in range(60):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if math.erf(middle) < value else (low, middle)
    return 0.5 * (low + high)
