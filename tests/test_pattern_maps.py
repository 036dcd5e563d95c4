"""The maps of the solid against closed forms: volume, axes, contours, what a turn does to a section."""

import math
from collections.abc import Callable

import numpy as np
import numpy.typing as npt
import pytest

from billet.pattern.creeping_flow import faces_alike, faces_opposed
from billet.pattern.flattening import Flattened, Relief, flattened
from billet.pattern.maps import Dragged, FoldedOver, OnEdge, OnEnd, Shift, Stretch, UpsideDown
from billet.pattern.points import Map, Points, at
from billet.pattern.pressing import Imprint
from billet.pattern.twist import DISK_RADIUS, Twist, disk_of, square_of
from billet.pattern.unevenness import Unevenness

Floats = npt.NDArray[np.float64]
HEIGHT, PITCH = 12.0, 12.0
ALONG = 257
SIDE = np.linspace(0.0, 1.0, ALONG)


def cosine(depth_mm: float) -> Floats:
    """A groove as wide as its pitch, from its middle to half a pitch on."""
    return (0.5 * depth_mm * (1.0 + np.cos(np.pi * SIDE)))[None]


def relief(top_mm: Floats, bottom_mm: Floats, pitch_mm: float = PITCH) -> Relief:
    return Relief(HEIGHT, top_mm, bottom_mm, (1.0, 0.5 * pitch_mm))


def offset_grooves(depth_mm: float, pitch_mm: float = PITCH) -> Flattened:
    return flattened(relief(cosine(depth_mm), cosine(depth_mm)[:, ::-1], pitch_mm), 129)


def dimples() -> Flattened:
    size = np.linspace(0.0, 4.0, 33)
    off = np.hypot(*np.meshgrid(size, size, indexing="ij"))
    depth = np.where(off < 3.5, 1.25 * (1.0 + np.cos(np.pi * off / 3.5)), 0.0)
    return flattened(Relief(HEIGHT, depth, depth, (4.0, 4.0)), 33)


def scattered(height_mm: float, count: int = 4000) -> Points:
    rng = np.random.default_rng(7)
    low = np.array([-6.0, 0.04 * height_mm, 0.0])
    high = np.array([6.0, 0.96 * height_mm, 60.0])
    return at(*(low[:, None] + (high - low)[:, None] * rng.random((3, count))))


def jacobian(each: Map, points: Points, step_mm: float) -> Floats:
    columns = []
    for axis in range(3):
        ahead, behind = list(points), list(points)
        ahead[axis], behind[axis] = ahead[axis] + step_mm, behind[axis] - step_mm
        there, back = each(Points(*ahead)), each(Points(*behind))
        pairs = zip(there, back, strict=True)
        columns.append(np.stack([np.broadcast_to(a - b, points.x.shape) for a, b in pairs]))
    matrix = np.stack(columns) / (2.0 * step_mm)
    found: Floats = np.linalg.det(np.moveaxis(matrix, 2, 0))
    return found


PLAIN: dict[str, Map] = {
    "stretch": Stretch(1.6, 0.5, 1.25, 0.2),
    "shift": Shift(1.0, 2.0, 3.0),
    "on edge": OnEdge(12.0, 30.0),
    "on end": OnEnd(80.0),
    "upside down": UpsideDown(12.0),
    "folded over": FoldedOver(12.0, 60.0),
    "hand": Unevenness(5, 0.3),
}


@pytest.mark.parametrize("name", PLAIN)
def test_a_map_keeps_volume(name: str) -> None:
    assert jacobian(PLAIN[name], scattered(HEIGHT), 1e-3) == pytest.approx(1.0, abs=1e-6)


def test_a_split_keeps_volume_on_either_side_of_its_vein() -> None:
    points = scattered(HEIGHT)
    aside = np.abs(points.x) > 0.01
    assert jacobian(Dragged(24.0, 5.0), points, 1e-3)[aside] == pytest.approx(1.0, abs=1e-6)


def test_a_twist_keeps_volume() -> None:
    """Nine tenths of the way to the sides; at the corners themselves the tables cut the bend short."""
    points = scattered(12.0)
    inside = Points(0.9 * points.x, 6.0 + 0.9 * (points.y - 6.0), points.z)
    off = np.abs(jacobian(Twist(12.0, 12.0, 100.0, 3.0), inside, 0.02) - 1.0)
    assert np.median(off) < 2e-4 and np.quantile(off, 0.98) < 1e-3


@pytest.mark.parametrize(
    "make", [lambda: offset_grooves(3.0), lambda: flattened(relief(cosine(3.0), cosine(3.0)), 129)]
)
def test_flattened_grooves_keep_volume(make: Callable[[], Flattened]) -> None:
    flat = make()
    off = np.abs(jacobian(flat, scattered(flat.mean_mm), 0.1) - 1.0)
    assert np.median(off) < 1e-3 and np.max(off) < 0.01


def test_flattened_dimples_keep_volume() -> None:
    flat = dimples()
    off = np.abs(jacobian(flat, scattered(flat.mean_mm), 0.125) - 1.0)
    assert np.median(off) < 1e-3 and np.quantile(off, 0.99) < 0.01


def test_an_imprint_keeps_volume() -> None:
    relieved = relief(cosine(2.0), cosine(2.0))
    off = np.abs(jacobian(Imprint(relieved, HEIGHT), scattered(8.0), 0.01) - 1.0)
    assert np.max(off) < 2e-3


def test_half_a_turn_takes_y_to_the_other_side() -> None:
    twist = Twist(12.0, 12.0, 100.0, 1.0)
    start, half = (twist(at(np.linspace(-5.9, 5.9, 60), 9.0, z)) for z in (0.0, 50.0))
    assert start.y == pytest.approx(np.full(60, 9.0), abs=2e-3)
    assert half.y == pytest.approx(12.0 - start.y, abs=2e-3)
    assert half.x == pytest.approx(-start.x, abs=4e-3)


def test_on_the_axis_of_a_twist_lies_one_layer() -> None:
    old = Twist(12.0, 12.0, 100.0, 9.0)(at(0.0, 6.0, np.linspace(0.0, 100.0, 200)))
    assert old.y == pytest.approx(np.full(200, 6.0), abs=1e-9)


def test_the_axis_of_a_twist_is_not_torn() -> None:
    """Round the axis a turn is a turn: the section there is stretched by no more than a hundredth."""
    angle = np.linspace(-np.pi, np.pi, 721)[:-1]
    radius, turned = disk_of(0.1 * np.cos(angle), 0.1 * np.sin(angle))
    assert np.min(radius / 0.1) > 0.99 and np.max(radius / 0.1) < 1.01
    assert np.max(np.abs(np.angle(np.exp(1j * (turned - angle))))) < 0.01


def test_disk_and_square_are_each_other_backwards() -> None:
    rng = np.random.default_rng(1)
    x, y = rng.uniform(-1.0, 1.0, (2, 5000))
    radius, angle = disk_of(x, y)
    assert np.all(radius <= DISK_RADIUS * (1.0 + 1e-6))
    back_x, back_y = square_of(radius, angle)
    assert back_x == pytest.approx(x, abs=1e-3) and back_y == pytest.approx(y, abs=1e-3)


def test_rings_hold_the_area_of_their_circles() -> None:
    """A quarter of the square's area lies inside the ring whose circle holds a quarter of the disk's."""
    rng = np.random.default_rng(2)
    radius, _ = disk_of(*rng.uniform(-1.0, 1.0, (2, 200_000)))
    for share in (0.1, 0.25, 0.5, 0.9):
        assert np.mean(radius**2 < share * DISK_RADIUS**2) == pytest.approx(share, abs=0.004)


@pytest.mark.parametrize(
    "top, bottom", [(3.0, 3.0), (3.0, 0.0), (0.0, 2.0)], ids=["both", "top alone", "bottom alone"]
)
def test_the_faces_of_the_flat_bar_were_the_walls_of_the_grooves(top: float, bottom: float) -> None:
    flat = flattened(relief(cosine(top), cosine(bottom)[:, ::-1]), 65)
    z = np.linspace(0.0, 2.0 * PITCH, 300)
    for face, depth, shift in ((flat.mean_mm, top, 0.0), (0.0, bottom, 0.5)):
        old = flat(at(0.0, face, z))
        wall = 0.5 * depth * (1.0 + np.cos(2.0 * np.pi * (old.z / PITCH - shift)))
        expected = HEIGHT - wall if face else wall
        assert old.y == pytest.approx(expected, abs=2e-3)


def test_offset_grooves_of_a_long_pitch_bend_all_layers_alike() -> None:
    """Constant thickness: along the bar nothing moves, and every contour is that of the face."""
    depth, pitch = 3.0, 3000.0
    flat = offset_grooves(depth, pitch)
    new = at(0.0, np.linspace(0.5, 8.5, 9)[:, None], np.linspace(0.0, pitch, 100)[None, :])
    old = flat(new)
    assert flat.mean_mm == pytest.approx(HEIGHT - depth)
    bent = HEIGHT - 0.5 * depth * (1.0 + np.cos(2.0 * np.pi * old.z / pitch))
    assert old.y == pytest.approx(bent - (flat.mean_mm - new.y), abs=2e-3)
    assert old.z == pytest.approx(np.broadcast_to(new.z, old.z.shape), abs=0.02)


def test_opposed_grooves_of_a_long_pitch_follow_the_rule_of_columns() -> None:
    """z h = int (t - b) dz with t - b = H - d (1 + cos(2 pi z / P)) for equal grooves in both faces."""
    depth, pitch = 2.0, 3000.0
    flat = flattened(relief(cosine(depth), cosine(depth), pitch), 65)
    new = at(0.0, 0.5 * flat.mean_mm, np.linspace(0.0, pitch, 100))
    old = flat(new)
    column = (HEIGHT - depth) * old.z - depth * pitch / (2.0 * np.pi) * np.sin(2.0 * np.pi * old.z / pitch)
    assert column == pytest.approx(new.z * flat.mean_mm, abs=0.05)


def test_an_imprint_is_the_explicit_rule_of_columns() -> None:
    depth = 2.0
    old = Imprint(relief(cosine(depth), cosine(0.0)), HEIGHT)(at(0.0, 5.0, np.linspace(0.0, PITCH, 50)))
    z = np.linspace(0.0, PITCH, 50)
    thickness = HEIGHT - 0.5 * depth * (1.0 + np.cos(2.0 * np.pi * z / PITCH))
    assert old.y == pytest.approx(HEIGHT * 5.0 / thickness, abs=1e-4)
    moved = (HEIGHT - 0.5 * depth) * z - 0.25 * depth * PITCH / np.pi * np.sin(2.0 * np.pi * z / PITCH)
    assert old.z == pytest.approx(moved / HEIGHT, abs=1e-3)


@pytest.mark.parametrize("a", [0.01, 0.5, 2.0, 9.0, 300.0])
def test_a_face_moves_by_its_own_amplitude_and_bears_no_shear(a: float) -> None:
    """F(1) = 1; and F'' + F = 0 by k n at the face, from differences of the slope."""
    step = 1e-4 / a
    for flow in (faces_alike, faces_opposed):
        (rise, _), (_, slope), (_, under) = (
            flow(np.array(a), np.array(eta)) for eta in (1.0, 1.0, 1.0 - step)
        )
        assert float(rise) == pytest.approx(1.0)
        second = (float(slope) - float(under)) / step / a**2
        assert second == pytest.approx(-1.0, abs=0.01)


def test_how_much_of_a_bend_the_middle_keeps() -> None:
    """(1 + a tanh a) / cosh a, worked by hand for a = 2: (1 + 2 x 0.96403) / 3.76220."""
    rise, _ = faces_alike(np.array(2.0), np.array(0.0))
    assert float(rise) == pytest.approx(0.77829, abs=2e-5)


def test_a_wave_of_the_faces_grows_fainter_inside() -> None:
    spans = []
    for share in (1.0, 0.75, 0.5):
        flat = offset_grooves(3.0)
        spans.append(float(np.ptp(flat(at(0.0, share * flat.mean_mm, np.linspace(0.0, PITCH, 200))).y)))
    assert spans[0] > spans[1] > spans[2] > 0.5 * spans[0]


def test_dimples_draw_metal_sideways_too() -> None:
    """Metal between the dimples flows into them: what lies beneath one has come from further out."""
    flat = dimples()
    old = flat(at(2.0, 0.5 * flat.mean_mm, 2.0))
    assert float(old.x) > 2.02 and math.isclose(float(old.x), float(old.z), rel_tol=1e-6)
