"""What the heats of normalising and the soak do to the carbon between the layers of the blade."""

from billet.diffusion.profile import Profile
from billet.diffusion.transport import hold
from billet.hardening.decision import HardeningDecision


def after_normalising_and_soak(profile: Profile, judged: HardeningDecision) -> Profile:
    """The blade's profile after the recommended cycles and the soak; its faces lose nothing here.

    Carbon lost from the blade's own faces in these heats is told apart, as what to grind off after.
    """
    heats = [heat for heat in judged.normalising.heats if heat[1] > 0.0]
    # The faces are asked about next, at the heats as they are printed.
    return hold(profile, [*heats, *soak_heat(judged)], later_c=judged.normalising.temperatures_c)


def soak_heat(judged: HardeningDecision) -> list[tuple[float, float]]:
    """The hardening heat as (temperature in C, minutes); nothing where there is no set point."""
    if judged.set_point_c is None or judged.soak is None:
        return []
    return [(judged.set_point_c, judged.soak.minutes)]
