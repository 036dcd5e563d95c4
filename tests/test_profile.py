"""Cutting, joining, turning and reading a profile."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from transport_cases import HIGH, MILD, even_metals, piece

from billet.diffusion import profile as p
from billet.diffusion.mesh import remeshed
from billet.errors import OutOfDomain

METALS = p.gather_metals({"dark": HIGH, "mild": MILD}, {"dark": 7.85, "mild": 7.85})
CELLS = st.lists(
    st.tuples(st.floats(0.01, 3.0), st.integers(0, 1), st.floats(0.0, 0.06)), min_size=1, max_size=25
)


def build(cells):
    return piece(METALS, [c[0] for c in cells], [c[1] for c in cells], [c[2] for c in cells])


def test_a_fresh_plate_holds_the_carbon_of_its_analysis():
    plate = p.plate(METALS, "dark", 3.0, rows=1, columns=9)
    assert p.mean_carbon_wt(plate) == pytest.approx(0.95, rel=1e-12)
    # 3 mm of 7.85 g/cm3 is 23550 g/m2.
    assert plate.carbon_g_m2 == pytest.approx(23550 * 0.0095, rel=1e-12)


@given(CELLS, st.floats(0.0, 0.49), st.floats(0.0, 0.49))
def test_removed_metal_and_what_is_left_make_the_whole(cells, low, high):
    whole = build(cells)
    bottom, top = low * whole.height_mm, high * whole.height_mm
    left = p.removed(whole, bottom, top)
    assert left.height_mm == pytest.approx(whole.height_mm - bottom - top, rel=1e-9)
    assert np.all(left.thickness_mm >= 0)
    below = p.removed(whole, 0.0, whole.height_mm - bottom) if bottom > 1e-6 else None
    above = p.removed(whole, whole.height_mm - top, 0.0) if top > 1e-6 else None
    parts = [part.carbon_g_m2 for part in (below, left, above) if part is not None]
    assert sum(parts) == pytest.approx(whole.carbon_g_m2, rel=1e-9, abs=1e-6 * whole.height_mm * 80)
    assert len(left.spread_mm2) == len(left.layers()[1]) - 1


@given(CELLS)
def test_turning_twice_changes_nothing(cells):
    whole = build(cells)
    back = p.turned(p.turned(whole))
    assert np.array_equal(back.thickness_mm, whole.thickness_mm)
    assert np.array_equal(back.ratio, whole.ratio)
    assert p.turned(whole).carbon_g_m2 == pytest.approx(whole.carbon_g_m2, rel=1e-12)


@given(CELLS, CELLS)
def test_joined_pieces_add_up_and_count_their_seams(first, second):
    below, above = build(first), build(second)
    both = p.joined([below, above])
    assert both.carbon_g_m2 == pytest.approx(below.carbon_g_m2 + above.carbon_g_m2, rel=1e-12)
    assert len(both.spread_mm2) == len(both.layers()[1]) - 1


@given(CELLS, st.floats(0.05, 1.0))
def test_forging_keeps_carbon_in_the_metal(cells, ratio):
    whole = build(cells)
    flat = p.forged(whole, ratio)
    assert flat.carbon_g_m2 == pytest.approx(ratio * whole.carbon_g_m2, rel=1e-12)
    assert p.mean_carbon_wt(flat) == pytest.approx(p.mean_carbon_wt(whole), rel=1e-12)


@given(CELLS, st.floats(0.02, 2.0), st.tuples(st.booleans(), st.booleans()), st.floats(0.0, 0.3))
def test_new_cells_hold_the_same_carbon_in_every_layer(cells, reach, open_faces, scale):
    whole = build(cells)
    fine = remeshed(whole, lambda ratio, _: ratio, reach, open_faces, (scale, scale), refine=2)
    assert np.all(fine.thickness_mm > 0)
    old, new = whole.layers(), fine.layers()
    assert np.array_equal(old[1], new[1])
    assert new[0] == pytest.approx(old[0], rel=1e-9)
    for before, after in zip(_by_layer(whole), _by_layer(fine), strict=True):
        assert after == pytest.approx(before, rel=1e-9, abs=1e-12)
    assert fine.ratio.min() >= whole.ratio.min() - 1e-9
    assert fine.ratio.max() <= whole.ratio.max() + 1e-9


def test_faces_whose_cells_meet_in_the_middle_leave_no_sliver_there():
    """A cell as thin as the rounding of two edges would hold whatever its rounding makes of its carbon."""
    whole = build([(1.0, 0, 0.03)])
    fine = remeshed(whole, lambda ratio, _: ratio, 0.1, (True, True), (0.5 - 1e-15, 0.5 - 1e-15), refine=1)
    assert fine.thickness_mm.min() > 1e-6
    assert fine.ratio == pytest.approx(np.full(fine.ratio.shape, whole.ratio[0, 0]), rel=1e-9)


def _by_layer(profile):
    return np.add.reduceat(profile.moles * profile.ratio[0], profile.layer_starts)


def test_quantiles_weigh_by_metal():
    # A ramp of y over uneven cells: the share of metal below a content is the share of the height.
    metals = even_metals("a")
    edges = 6.0 * np.linspace(0.0, 1.0, 13) ** 1.5
    ramp = 0.01 + 0.04 * 0.5 * (edges[1:] + edges[:-1]) / 6.0
    whole = piece(metals, np.diff(edges), [0] * 12, list(ramp))
    shares = [0.05, 0.1, 0.5, 0.9, 0.97]
    exact = p.carbon_wt(0.01 + 0.04 * np.array(shares), metals.metal_weight[[0] * 5])
    assert p.carbon_quantiles(whole, "a", shares) == pytest.approx(exact, abs=0.003)


def test_quantiles_refuse_a_steel_that_is_not_there():
    with pytest.raises(OutOfDomain):
        p.carbon_quantiles(piece(METALS, [1.0], [0], [0.02]), "mild", [0.5])


@pytest.mark.parametrize("layers", [1, 3, 60, 199, 200, 201, 960])
def test_picture_has_two_points_at_each_seam_and_no_more_than_asked(layers):
    metals = even_metals("a", "b")
    cells = [0.1, 0.2, 0.1] * layers
    steel = np.repeat(np.arange(layers) % 2, 3)
    whole = piece(metals, cells, steel, list(np.linspace(0.01, 0.05, 3 * layers)))
    points = p.sampled(whole)
    assert len(points.position_mm) == len(points.carbon_wt) == len(points.steel) <= 400
    assert points.position_mm == sorted(points.position_mm)
    assert points.position_mm[0] == 0.0
    assert points.position_mm[-1] == pytest.approx(whole.height_mm)
    if layers == 3:
        seams = [k for k in range(len(points.steel) - 1) if points.steel[k] != points.steel[k + 1]]
        assert [points.position_mm[k] for k in seams] == [points.position_mm[k + 1] for k in seams]
        assert len(seams) == 2


@pytest.mark.parametrize(("bottom", "top"), [(-0.1, 0.0), (0.6, 0.4), (2.0, 0.0), (float("nan"), 0.0)])
def test_refuses_to_remove_what_is_not_there(bottom, top):
    with pytest.raises(OutOfDomain):
        p.removed(piece(METALS, [1.0], [0], [0.02]), bottom, top)


def test_refuses_a_plate_of_no_thickness():
    with pytest.raises(OutOfDomain):
        p.plate(METALS, "dark", 0.0, rows=1, columns=9)
