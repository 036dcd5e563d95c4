"""No answer jumps where the metal alters a little: fine sweeps, each a sample of many."""

import numpy as np
import pytest

from tests.joint_samples import decided, layer

PAIRS = [
    ("1095", "75Ni8"), ("1084", "75Ni8"), ("1075", "75Ni8"), ("80CrV2", "75Ni8"), ("52100", "75Ni8"),
    ("O1", "75Ni8"), ("O1", "1084"), ("1095", "1018"), ("5160", "52100"), ("1084", "52100"),
    ("90MnCrV8", "75Ni8"), ("C105U", "75Ni8"), ("51CrV4", "80CrV2"), ("100Cr6", "75Ni8"), ("1084", "L6"),
    ("1095", "O1"), ("1095", "5160"), ("X46Cr13", "440C"), ("W2", "A203E"), ("142WV13", "75Ni8"),
    ("1084", "45NiCrMo16"), ("W1", "75Ni8"), ("W2", "75Ni8"), ("115CrV3", "75Ni8"), ("C75S", "75Ni8"),
    ("80CrV2", "1084"), ("C105U", "80CrV2"), ("1095", "L6"), ("9260", "1084"), ("115W8", "75Ni8"),
]  # fmt: skip
SWEPT = {
    "C": (0.35, 1.30), "Mn": (0.10, 2.00), "Si": (0.05, 2.00), "Cr": (0.0, 3.0), "Ni": (0.0, 4.0),
    "V": (0.0, 0.5), "W": (0.0, 3.0), "Mo": (0.0, 1.0),
}  # fmt: skip
STEPS = 81
MOST_K, MOST_SET_K = 4.0, 6.0


@pytest.mark.parametrize("pair", PAIRS, ids="|".join)
def test_no_element_of_a_melt_moves_an_end_by_a_jump(pair: tuple[str, str]) -> None:
    for element, (least, most) in SWEPT.items():
        swept = np.linspace(least, most, STEPS)
        first = layer(pair[0], swept) if element == "C" else layer(pair[0], **{element: swept})
        found = decided(first, layer(pair[1]), half_width_k=13.0)
        # one per cent of the content is a small change, or half a per cent of the range where that is more
        part = np.diff(swept) / np.maximum(0.01 * swept[1:], 0.005 * (most - least))
        both = found.has_window[1:] & found.has_window[:-1]
        for ends in (found.window.low_c, found.window.high_c):
            moved = np.abs(np.diff(ends))[both] / np.maximum(part[both], 1.0)
            assert moved.max(initial=0.0) <= MOST_K, (element, swept[1:][both][moved.argmax()])
        steps = np.abs(np.diff(found.point.c))[both]
        assert steps.max(initial=0.0) <= MOST_SET_K, element


@pytest.mark.parametrize("pair", PAIRS, ids="|".join)
def test_a_rougher_fire_moves_the_set_point_by_no_jump(pair: tuple[str, str]) -> None:
    points = []
    for half_width_k in np.arange(0.0, 40.0, 0.5):
        found = decided(layer(pair[0]), layer(pair[1]), half_width_k=float(half_width_k))
        points.append(float(found.heat_c[0]))
        if half_width_k > 3.0 and not found.has_window[0]:
            break
    assert np.abs(np.diff(points)).max(initial=0.0) <= MOST_SET_K


@pytest.mark.parametrize("carbon_wt", [0.10, 0.20, 0.30, 0.33, 0.36, 0.40])
def test_a_sliver_fades_in(carbon_wt: float) -> None:
    """O1 with a little mild steel that takes up carbon: nothing enters the answer at a step."""
    gained = np.linspace(carbon_wt, carbon_wt + 0.05, 60)
    found = decided(layer("O1", share=0.9), layer("1018", gained, share=0.1), half_width_k=10.0)
    for ends in (found.window.low_c, found.window.high_c):
        assert np.abs(np.diff(ends)).max() <= MOST_K
    assert np.abs(np.diff(found.point.c)).max() <= MOST_SET_K
