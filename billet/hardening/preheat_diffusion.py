"""What the heats of normalising and the soak do to the carbon between the layers of the blade."""

from billet.diffusion.profile import Profile
from billet.diffusion.transport import hold
from billet.hardening.decision import HardeningDecision
from billet.tables.practice import decision_numbers


def after_normalising_and_soak(profile: Profile, judged: HardeningDecision) -> Profile:
    """The blade's profile after the recommended cycles and the soak; its faces lose nothing here.

    Carbon lost from the blade's own faces in these heats is told apart, as what to grind off after.
    """
    minutes_each = float(decision_numbers("normalise")["minutes_each"])
    heats: list[tuple[float, float]] = []
    for temperature_c in judged.normalising.temperatures_c:
        if heats and heats[-1][0] == temperature_c:
            heats[-1] = (temperature_c, heats[-1][1] + minutes_each)
        else:
            heats.append((temperature_c, minutes_each))
    if judged.set_point_c is not None and judged.soak_min is not None:
        heats.append((judged.set_point_c, judged.soak_min))
    return hold(profile, heats)
