"""Quenching media: their names, baths and film coefficients."""

from dataclasses import dataclass
from functools import cache
from typing import Any

from billet.errors import OutOfDomain
from billet.tables.reading import read_toml

Range = tuple[float, float]


@dataclass(frozen=True)
class Medium:
    """One way to quench. `film` holds (surface temperature in C, film coefficient in W/m2K)."""

    name: str
    label: str
    bath_c: Range
    bath_limits_c: Range
    film: tuple[tuple[float, float], ...]
    film_bath_c: float
    emissivity: float
    speed: str
    nickel_ball_s: Range | None
    probe_largest_rate_k_s: Range | None
    counts_no_faster_than: str | None
    basis: str
    source: str
    note: str
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class MeasuredFilm:
    """A film coefficient that was measured and printed, to hold the classes against."""

    name: str
    bath_c: float
    film: tuple[tuple[float, float], ...]
    source: str
    where: str


def _pair(values: Any) -> Range | None:
    return None if values is None else (float(values[0]), float(values[1]))


def _film(nodes: Any) -> tuple[tuple[float, float], ...]:
    return tuple((float(t), float(h)) for t, h in nodes)


def _medium(row: dict[str, Any]) -> Medium:
    bath = _pair(row["bath_c"])
    limits = _pair(row["bath_limits_c"])
    assert bath is not None and limits is not None
    return Medium(
        name=row["name"],
        label=row["label"],
        bath_c=bath,
        bath_limits_c=limits,
        film=_film(row["film"]),
        film_bath_c=float(row["film_bath_c"]),
        emissivity=float(row.get("emissivity", 0.0)),
        speed=row["speed"],
        nickel_ball_s=_pair(row.get("nickel_ball_s")),
        probe_largest_rate_k_s=_pair(row.get("probe_largest_rate_k_s")),
        counts_no_faster_than=row.get("counts_no_faster_than"),
        basis=row["basis"],
        source=row["source"],
        note=row["note"],
        cautions=tuple(row["cautions"]),
    )


@cache
def media() -> tuple[Medium, ...]:
    """All media, quickest first."""
    return tuple(_medium(row) for row in read_toml("media.toml")["medium"])


@cache
def _by_name() -> dict[str, Medium]:
    return {m.name: m for m in (*media(), forced_air())}


def medium(name: str) -> Medium:
    """The medium of this name, "forced air" too. Raises OutOfDomain for any other name."""
    found = _by_name().get(name)
    if found is None:
        raise OutOfDomain("medium", name, f"one of {', '.join(_by_name())}")
    return found


def severity(name: str) -> int:
    """Place in the list: 0 the quickest. Raises OutOfDomain for a name that is not in the list."""
    names = [m.name for m in media()]
    if name not in names:
        raise OutOfDomain("medium", name, f"one of {', '.join(names)}")
    return names.index(name)


@cache
def measured_films() -> tuple[MeasuredFilm, ...]:
    """Films that were measured and printed."""
    return tuple(
        MeasuredFilm(r["name"], float(r["bath_c"]), _film(r["film"]), r["source"], r["where"])
        for r in read_toml("media.toml")["measured"]
    )


@cache
def unfit_baths() -> dict[str, str]:
    """What is never a bath, by name, with the code of the reason."""
    return {row["name"]: row["code"] for row in read_toml("media.toml")["unfit"]}


@cache
def forced_air() -> Medium:
    """The air blast, which is no medium of the list but takes part in comparisons."""
    row = read_toml("media.toml")["forced_air"]
    still = media()[-1]
    return Medium(
        name="forced air",
        label=row["label"],
        bath_c=still.bath_c,
        bath_limits_c=still.bath_limits_c,
        film=_film(row["film"]),
        film_bath_c=float(row["film_bath_c"]),
        emissivity=float(row["emissivity"]),
        speed=row["label"],
        nickel_ball_s=None,
        probe_largest_rate_k_s=None,
        counts_no_faster_than=None,
        basis=row["basis"],
        source=row["source"],
        note=row["note"],
        cautions=(),
    )
