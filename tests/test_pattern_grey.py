"""The grey of a pixel by share, the etch, the file of a picture."""

import math
import struct
import zlib

import numpy as np
import numpy.typing as npt
import pytest

from billet.composition import Composition
from billet.diffusion.heat import SPREADING
from billet.diffusion.profile import Profile, gather_metals
from billet.pattern.etch import grey_of, grey_of_steel, section_grey
from billet.pattern.png import png_bytes
from billet.pattern.scale_bar import LENGTHS_MM, ROWS, with_scale_bar
from billet.pattern.share_mean import RunningGrey, running_grey

Floats = npt.NDArray[np.float64]
DARK = Composition({"C": 0.84, "Mn": 0.75})
BRIGHT = Composition({"C": 0.75, "Mn": 0.40, "Ni": 2.0})
STAINLESS = Composition({"C": 0.4, "Mn": 0.5, "Cr": 13.0})
NICKEL = Composition({"Ni": 99.0})


def stripes(count: int = 64, height_mm: float = 6.0, cells: int = 4096) -> RunningGrey:
    return running_grey(np.arange(cells) * count // cells % 2 * 0.8 + 0.1, height_mm)


def dense(grey: RunningGrey, y: Floats, a: Floats, b: Floats, points: int = 200) -> Floats:
    """The same mean from many points of each pixel."""
    side = (np.arange(points) + 0.5) / points - 0.5
    place = y[:, None, None] + a[:, None, None] * side[None, :, None] + b[:, None, None] * side[None, None, :]
    index = np.clip(place / grey.height_mm * len(grey.cells), 0, len(grey.cells) - 1).astype(np.intp)
    found: Floats = grey.mean + np.mean(grey.cells[index], axis=(1, 2))
    return found


def drawn_lots(count: int) -> tuple[Floats, Floats, Floats]:
    rng = np.random.default_rng(3)
    sizes = 10.0 ** rng.uniform(-2.5, 0.5, (2, count)) * rng.choice([-1.0, 1.0], (2, count))
    return rng.uniform(0.5, 5.5, count), sizes[0], sizes[1]


def test_grey_by_share_is_that_of_dense_points() -> None:
    grey, lots = stripes(), drawn_lots(300)
    off = np.abs(grey.mean_over(*lots) - dense(grey, *lots))
    assert np.max(off) < 0.02 and np.mean(off) < 0.002


def test_nine_points_a_pixel_would_be_far_off() -> None:
    grey, lots = stripes(), drawn_lots(300)
    assert np.mean(np.abs(dense(grey, *lots, points=3) - dense(grey, *lots))) > 0.03


def test_a_pixel_within_a_layer_has_its_grey() -> None:
    layer_mm = 6.0 / 64
    found = stripes().mean_over(np.array([0.5, 1.5]) * layer_mm, np.zeros(2), np.full(2, 0.01))
    assert found == pytest.approx([0.1, 0.9], abs=1e-6)


def test_beyond_the_layers_the_outermost_goes_on() -> None:
    found = stripes().mean_over(np.array([-1.0, 7.0]), np.full(2, 0.1), np.full(2, 0.2))
    assert found == pytest.approx([0.1, 0.9], abs=1e-6)


def test_layers_finer_than_a_pixel_come_out_as_their_mean() -> None:
    found = stripes(4000, cells=1 << 16).mean_over(
        np.linspace(1.0, 5.0, 50), np.full(50, 0.2), np.full(50, 0.3)
    )
    assert found == pytest.approx(np.full(50, 0.5), abs=2e-3)


def test_nickel_is_bright_carbon_and_manganese_dark_chromium_between() -> None:
    dark, bright, chromium = (grey_of_steel(steel, steel["C"]) for steel in (DARK, BRIGHT, STAINLESS))
    assert dark < 0.25 < 0.4 < chromium < 0.65 < 0.8 < bright < grey_of_steel(NICKEL, 0.0) <= 0.95
    assert grey_of_steel(DARK, 0.2) > dark + 0.05, "a skin that lost its carbon is pale"
    assert grey_of_steel(Composition({**DARK.wt, "Mn": 1.4}), 0.84) < dark


def test_greys_stay_off_black_and_white() -> None:
    wt = {e: np.array([0.0, 3.0]) for e in ("Ni", "Mn", "Cr", "C")}
    assert np.all((grey_of(wt) > 0.09) & (grey_of(wt) < 0.96))


def laminate(layers: int, layer_um: float, sigma_um: float) -> Profile:
    steels = {"dark": DARK.with_carbon(0.8), "bright": BRIGHT.with_carbon(0.8)}
    metals = gather_metals(steels, {"dark": 7.85, "bright": 7.85})
    steel = np.arange(layers, dtype=np.intp) % 2
    y = np.array([c.carbon_ratio for c in metals.compositions])[steel][None]
    spread = np.full((layers - 1, len(SPREADING)), (1e-3 * sigma_um) ** 2)
    return Profile(metals, np.full(layers, 1e-3 * layer_um), steel, y, spread)


def contrast(layers: int, layer_um: float, sigma_um: float) -> float:
    section = section_grey(laminate(layers, layer_um, sigma_um))
    inner = section.cells[len(section.cells) // 4 : -len(section.cells) // 4]
    return float(np.ptp(inner))


def test_half_micrometre_layers_come_out_grey() -> None:
    """Between equal layers spread by three times their thickness nothing of the difference is left."""
    assert contrast(1000, 0.5, 1.5) < 1e-3
    assert contrast(64, 100.0, 1.5) > 0.6


def test_what_is_left_is_the_series_for_equal_layers() -> None:
    """At the centre of equal layers 4/pi exp(-(pi sigma / d)^2 / 2) of the difference is left."""
    sigma, layer = 5.0, 10.0
    left = 4.0 / math.pi * math.exp(-0.5 * (math.pi * sigma / layer) ** 2)
    mean = {e: 0.5 * (DARK[e] + BRIGHT[e]) for e in ("Ni", "Mn", "Cr")}
    ends = []
    for steel in (DARK, BRIGHT):
        wt = {e: np.array([mean[e] + left * (steel[e] - mean[e])]) for e in mean}
        ends.append(float(grey_of({**wt, "C": np.array([0.8])})[0]))
    assert contrast(200, layer, sigma) == pytest.approx(ends[1] - ends[0], abs=0.01)


def test_the_section_keeps_the_share_of_each_steel() -> None:
    """Sharp layers of 2 to 1: a third of the cells is bright."""
    profile = laminate(30, 100.0, 0.0)
    wide = np.where(np.arange(30) % 2 == 0, 0.2, 0.1)
    section = section_grey(Profile(profile.metals, wide, profile.steel, profile.ratio, profile.spread_mm2))
    bright = grey_of_steel(BRIGHT, 0.8)
    assert np.mean(section.cells + section.mean > 0.5 * bright) == pytest.approx(1.0 / 3.0, abs=0.002)


def read_png(content: bytes) -> tuple[npt.NDArray[np.uint8], dict[bytes, bytes]]:
    """Chunks by name and the greys, read back by the rules of the format."""
    assert content[:8] == bytes([137, 80, 78, 71, 13, 10, 26, 10])
    chunks, place = {}, 8
    while place < len(content):
        (length,) = struct.unpack(">I", content[place : place + 4])
        name, held = content[place + 4 : place + 8], content[place + 8 : place + 8 + length]
        (check,) = struct.unpack(">I", content[place + 8 + length : place + 12 + length])
        assert check == zlib.crc32(name + held)
        chunks[name] = held
        place += 12 + length
    columns, rows, depth, colour, *rest = struct.unpack(">II5B", chunks[b"IHDR"])
    assert (depth, colour, rest) == (8, 0, [0, 0, 0])
    lines = np.frombuffer(zlib.decompress(chunks[b"IDAT"]), dtype=np.uint8).reshape(rows, columns + 1)
    assert np.all(lines[:, 0] == 1), "each byte is told as the difference from the one before it"
    return np.cumsum(lines[:, 1:], axis=1, dtype=np.uint8), chunks


@pytest.mark.parametrize("shape", [(1, 1), (3, 7), (150, 1200)])
def test_a_png_reads_back_as_the_picture(shape: tuple[int, int]) -> None:
    grey = np.random.default_rng(4).random(shape)
    read, chunks = read_png(png_bytes(grey, 8.0))
    assert np.array_equal(read, np.round(grey * 255.0).astype(np.uint8))
    assert struct.unpack(">IIB", chunks[b"pHYs"]) == (8000, 8000, 1)
    assert chunks[b"IEND"] == b""


@pytest.mark.parametrize("mm_per_px", [0.002, 0.04, 0.3, 1.7])
def test_the_scale_bar_is_as_long_as_it_says(mm_per_px: float) -> None:
    picture = with_scale_bar(np.full((20, 1200), 0.5), mm_per_px)
    assert picture.shape == (20 + ROWS, 1200) and np.all(picture[:20] == 0.5)
    black = np.flatnonzero(picture[20 + 11] == 0.0)
    line = black[black < np.flatnonzero(np.diff(np.append(black, 9999)) > 1)[0] + 1]
    assert any(len(line) * mm_per_px == pytest.approx(mm, abs=mm_per_px) for mm in LENGTHS_MM)
