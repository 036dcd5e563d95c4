"""Steel lost to scale in a fire."""

import math

from billet.composition import ATOMIC_WEIGHT
from billet.errors import OutOfDomain
from billet.formulas.domain import refuse_impossible_temperature, refuse_negative
from billet.published import published
from billet.units import c_to_k

GAS_CONSTANT_J_MOL_K = 8.314462618
CALORIE_J = 4.184
IRON_DENSITY_G_CM3 = 7.86
# Iron for oxygen, by mass, in a scale of about 95 % wustite (Fe0.95O) with magnetite above it.
IRON_PER_OXYGEN = 3.30
# Either way on the loss: unit of the constant doubtful, air flow, cracking of the scale.
LOSS_BAND_FACTOR = 1.6


def _kelvin(temperature_c: float) -> float:
    refuse_impossible_temperature("temperature_c", temperature_c)
    return c_to_k(temperature_c)


@published(
    "chen-yuen-2003",
    where="parabolic constant after Paidassi, iron in air",
    equation="kp = 6.1 exp(-169452 / RT)",
    unit="g2 cm-4 s-1",
    basis="memory",
    note="Unit doubtful: some quote it for scale thickness, about 1.3 times more.",
    temperature_c=(700.0, 1250.0),
)
def oxygen_uptake_paidassi_g2_cm4_s(temperature_c: float) -> float:
    """Parabolic constant of the oxygen uptake of iron in air (Paidassi), g2 cm-4 s-1.

    Raises OutOfDomain at or below absolute zero.
    """
    return 6.1 * math.exp(-169452.0 / (GAS_CONSTANT_J_MOL_K * _kelvin(temperature_c)))


@published(
    "kubaschewski-hopkins-1962",
    where="table of parabolic constants, iron",
    equation="kp = 0.37 exp(-33000 cal / RT)",
    unit="g2 cm-4 s-1",
    basis="memory",
    temperature_c=(500.0, 1100.0),
)
def oxygen_uptake_kubaschewski_hopkins_g2_cm4_s(temperature_c: float) -> float:
    """Parabolic constant of the oxygen uptake of iron (Kubaschewski, Hopkins), g2 cm-4 s-1.

    Raises OutOfDomain at or below absolute zero.
    """
    activation_j_mol = 33000.0 * CALORIE_J
    return 0.37 * math.exp(-activation_j_mol / (GAS_CONSTANT_J_MOL_K * _kelvin(temperature_c)))


def _loss_mm(uptake_g2_cm4_s: float, minutes: float) -> float:
    refuse_negative("minutes", minutes)
    oxygen_g_cm2 = math.sqrt(uptake_g2_cm4_s * 60.0 * minutes)
    return 10.0 * IRON_PER_OXYGEN * oxygen_g_cm2 / IRON_DENSITY_G_CM3


@published(
    "chen-yuen-2003",
    where="square-root law with the constant after Paidassi",
    equation="x = 3.30 sqrt(kp t) / 7.86",
    unit="mm of steel on one face",
    basis="memory",
    note="Unalloyed steel in air that flows freely; good to a factor 1.6 either way.",
    temperature_c=(700.0, 1250.0),
)
def metal_loss_mm(temperature_c: float, minutes: float) -> float:
    """Steel lost on one face that starts clean and lies in air for some minutes, mm.

    Raises OutOfDomain at or below absolute zero and for a negative time.
    """
    return _loss_mm(oxygen_uptake_paidassi_g2_cm4_s(temperature_c), minutes)


def metal_loss_band_mm(temperature_c: float, minutes: float) -> tuple[float, float]:
    """Lower and upper end of the loss on one face, mm: both laws, and a factor 1.6 either way.

    Raises OutOfDomain at or below absolute zero and for a negative time.
    """
    main = metal_loss_mm(temperature_c, minutes)
    other = _loss_mm(oxygen_uptake_kubaschewski_hopkins_g2_cm4_s(temperature_c), minutes)
    return min(main / LOSS_BAND_FACTOR, other), max(main * LOSS_BAND_FACTOR, other)


@published(
    "chen-yuen-2003",
    where="square-root law turned round",
    equation="t = (7.86 x / 3.30)^2 / kp",
    unit="min",
    basis="memory",
    temperature_c=(700.0, 1250.0),
)
def minutes_to_lose(temperature_c: float, loss_mm: float) -> float:
    """Minutes in air after which one face has lost so much steel.

    Raises OutOfDomain at or below absolute zero and for a negative loss.
    """
    refuse_negative("loss_mm", loss_mm)
    oxygen_g_cm2 = loss_mm / 10.0 * IRON_DENSITY_G_CM3 / IRON_PER_OXYGEN
    return oxygen_g_cm2**2 / oxygen_uptake_paidassi_g2_cm4_s(temperature_c) / 60.0


def wustite_iron_per_oxygen(iron_atoms: float = 0.95) -> float:
    """Iron for oxygen by mass in wustite with so many iron atoms for one of oxygen.

    A check on the constant above: 3.32 for Fe0.95O. Raises OutOfDomain outside 0 to 1.
    """
    if not 0.0 < iron_atoms <= 1.0:
        raise OutOfDomain("iron_atoms", iron_atoms, "above 0 and at most 1")
    return iron_atoms * ATOMIC_WEIGHT["Fe"] / 15.999
