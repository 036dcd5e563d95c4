"""What the heats of normalising and the soak do to the carbon between the layers of the blade."""

from billet.tables.practice import rule
from billet.workflow.decision import Judged
from billet.workflow.profile import Profile
from billet.workflow.transport import hold


def settled(profile: Profile, judged: Judged) -> Profile:
    """The blade's profile after the recommended cycles and the soak; its faces lose nothing here.

    Carbon lost from the blade's own faces in these heats is told apart, as what to grind off after.
    """
    minutes_each = float(rule("normalise")["minutes_each"])
    heats: list[tuple[float, float]] = []
    for temperature_c in judged.normalising.temperatures_c:
        if heats and heats[-1][0] == temperature_c:
            heats[-1] = (temperature_c, heats[-1][1] + minutes_each)
        else:
            heats.append((temperature_c, minutes_each))
    if judged.set_point is not None and judged.soak_min is not None:
        heats.append((judged.set_point.c, judged.soak_min))
    return hold(profile, heats)
