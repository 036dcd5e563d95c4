"""Cuts that fall on a seam: no film of the neighbour is left, in the carbon or in the geometry."""

import numpy as np
import pytest
from transport_cases import HIGH, MILD, NICKEL, PLAIN, forging, piece

from billet.diffusion.profile import gather_metals, removed
from billet.diffusion.transport import hold, transport
from billet.forging.events import Copy, Done, Forge, Heat, HeatLoose, Join, Lay, Remove
from billet.forging.hot_bar import HotBar
from billet.forging.pile import Piece
from billet.forging.stack import Palette
from billet.recipe.model import Layer

DENSITY = {"dark": 7.85, "bright": 7.85}
# A layer is real from here on; the films that rounding leaves are 1e-16 of a height.
THINNEST_SHARE = 1e-9


def drawn():
    """A bar of 60 layers with the carbon of its forging."""
    bar = transport({"dark": PLAIN, "bright": NICKEL}, DENSITY, forging("reducing", 0.074)).profile
    assert bar is not None
    return bar


def test_a_cut_on_any_seam_leaves_whole_layers_and_all_the_carbon():
    bar = drawn()
    thickness_mm, _ = bar.layers()
    seams = np.cumsum(thickness_mm)[:-1]
    counted = 0
    for below in range(0, len(seams) - 1, 7):
        for above in range(below + 1, len(seams), 5):
            bottom, top = float(seams[below]), float(bar.height_mm - seams[above])
            left = removed(bar, bottom, top)
            layers_mm, _ = left.layers()
            assert len(layers_mm) == above - below
            assert float(left.thickness_mm.min()) > THINNEST_SHARE * left.height_mm
            assert left.height_mm == pytest.approx(bar.height_mm - bottom - top, rel=1e-12)
            assert len(left.spread_mm2) == len(layers_mm) - 1
            cells = np.concatenate([[0.0], np.cumsum(bar.moles * bar.ratio[0])])
            edges = np.concatenate([[0.0], np.cumsum(bar.thickness_mm)])
            inside = np.diff(np.interp([bottom, bar.height_mm - top], edges, cells))[0]
            assert float(left.moles @ left.ratio[0]) == pytest.approx(inside, rel=1e-9)
            counted += 1
    assert counted == 46


@pytest.mark.parametrize("digit", [-4e-16, -1e-16, 0.0, 1e-16, 4e-16])
def test_a_blade_cut_a_digit_beside_a_seam_takes_the_advised_heats(digit):
    # What advised heats under 900 C met: a film of the neighbour some 1e-16 mm thick at one face.
    bar = drawn()
    thickness_mm, _ = bar.layers()
    seams = np.cumsum(thickness_mm)
    left = removed(bar, float(seams[9]) + digit, float(bar.height_mm - seams[49]) + digit)
    assert len(left.layers()[1]) == 40
    after = hold(left, [(860.0, 10.0), (790.0, 10.0), (740.0, 10.0), (805.0, 5.0)])
    assert len(after.layers()[1]) == 40
    assert after.carbon_g_m2 == pytest.approx(left.carbon_g_m2, rel=1e-9)
    assert 0.0 <= after.carbon_wt.min() <= after.carbon_wt.max() < 1.0


def test_a_film_gives_height_and_carbon_to_its_neighbour():
    metals = gather_metals({"dark": HIGH, "bright": MILD}, DENSITY)
    bar = piece(metals, [1.0, 2.0, 1.0], [0, 1, 0], [0.04, 0.004, 0.04])
    left = removed(bar, 1.0 - 1e-12, 0.0)
    assert list(left.steel) == [1, 0]
    assert left.height_mm == pytest.approx(3.0 + 1e-12, abs=1e-15)
    film = 1e-12 * metals.moles_per_mm[0] * 0.04
    gained = left.moles[0] * left.ratio[0, 0] - 2.0 * metals.moles_per_mm[1] * 0.004
    assert gained == pytest.approx(film, rel=0.02)


def palette(first, second):
    return Palette(
        kind={"dark": 0, "bright": 1},
        density_kg_mm3={"dark": first, "bright": second},
        scale_rate={"dark": 1.0, "bright": 0.8},
    )


@pytest.mark.parametrize("top", [False, True])
def test_the_geometry_drops_the_same_films(top):
    names, mm = ["dark", "bright", "dark", "bright", "dark"], [0.3, 0.1, 0.2, 0.1, 0.3]
    for take in (0.3 - 1e-13, 0.3, 0.3 + 1e-13, 0.1 + 0.2 - 1e-16):
        bar = HotBar(Piece(names, mm), palette(7.85e-6, 7.85e-6))
        bar.grind_face(top, take)
        left = bar.cooled()
        assert len(left.mm) == 4
        assert left.thickness_mm == pytest.approx(1.0 - take, rel=1e-12)
        assert bar.gone == [("top" if top else "bottom", "dark")]
        assert bar.kg_mm2 == pytest.approx(7.85e-6 * (1.0 - take), rel=1e-9)


def test_scale_that_ends_on_a_seam_leaves_no_film():
    for mm in (0.1, 0.2, 0.3, 0.7):
        for close in (1.0 - 1e-15, 1.0, 1.0 + 1e-15):
            bar = HotBar(Piece(["dark", "bright"], [mm, 2.0]), palette(7.85e-6, 7.85e-6))
            bar.scale_face(False, mm * close)
            assert list(bar.cooled().names) == ["bright"]


def test_geometry_and_carbon_count_the_same_layers_after_a_grinding_to_the_seam():
    plates = tuple(Layer("dark" if k % 2 == 0 else "bright", 0.7 if k % 2 == 0 else 0.3) for k in range(9))
    steels = {"dark": HIGH, "bright": MILD}
    events = [Lay(0, plates), HeatLoose(1, 1000.0, 2.0, "reducing"), Join(1)]
    events += [Heat(1, 0, 1150.0, 5.0, 0.0, "reducing", (0.0, 0.0)), Forge(1, 1.0 / 3.0)]
    events += [Remove(2, 0.7 / 3.0, 0.7 / 3.0), Lay(3, (Copy(False), Copy(True))), Join(3)]
    events += [Heat(3, 0, 1150.0, 5.0, 0.0, "air", (0.1, 0.1)), Done(3)]
    bar = HotBar(
        Piece([p.steel for p in plates], [p.thickness_mm for p in plates]), palette(7.85e-6, 7.85e-6)
    )
    bar.stretch(1.0 / 3.0)
    bar.grind_face(False, 0.7 / 3.0)
    bar.grind_face(True, 0.7 / 3.0)
    assert len(bar.cooled().mm) == 7
    # Two pieces of seven whose bright faces meet; 0.1 mm of scale eats both outer bright layers' 0.1 mm.
    after = transport(steels, DENSITY, events).profile
    assert len(after.layers()[1]) == 11
    assert float(after.layers()[0].min()) > THINNEST_SHARE * after.height_mm
