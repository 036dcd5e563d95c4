"""Steels that people name without a grade: soft iron planned as cladding, and scrap without a figure."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from billet.tables.reading import read_toml


@dataclass(frozen=True)
class SoftIron:
    """Iron that stays soft: usual analysis, and what it may hold of carbon and manganese, in wt%.

    Common practice, but for the upper ends where `limits_source` names the print they are read from.
    """

    name: str
    wt: Mapping[str, float]
    carbon_wt: tuple[float, float]
    manganese_wt: tuple[float, float]
    limits_source: str | None

    def as_steel(self) -> dict[str, Any]:
        """The entry of [steels] that plans it: its analysis, as cladding that may stay soft."""
        return {"name": self.name, "wt": dict(self.wt), "role": "cladding"}


@dataclass(frozen=True)
class Scrap:
    """Steel known by what it was: what that often is, and why no figure is given (common practice)."""

    key: str
    name: str
    often: str
    why: str
    words: tuple[str, ...]


@cache
def soft_irons() -> tuple[SoftIron, ...]:
    """Every soft iron that is known by a name."""
    return tuple(
        SoftIron(r["name"], r["wt"], _span(r, "C"), _span(r, "Mn"), r.get("limits_source"))
        for r in read_toml("scrap.toml")["soft"]
    )


def _span(row: Mapping[str, Any], element: str) -> tuple[float, float]:
    low, high = row["holds_wt"][element]
    return float(low), float(high)


@cache
def scraps() -> tuple[Scrap, ...]:
    """Every kind of scrap of which something can be said."""
    rows = read_toml("scrap.toml")["scrap"]
    return tuple(Scrap(r["key"], r["name"], r["often"], r["why"], tuple(r["words"])) for r in rows)


def soft_iron(name: str) -> SoftIron | None:
    """The soft iron of this name: mild steel, wrought iron, S235; None for any other."""
    rows = zip(read_toml("scrap.toml")["soft"], soft_irons(), strict=True)
    return next((iron for row, iron in rows if _tidy(name) in row["words"]), None)


def usual_soft_iron(name: str, wt: Mapping[str, float]) -> SoftIron | None:
    """The soft iron that `as_steel` wrote down, or one named so by hand with the usual analysis: nobody told
    its own. None for any other."""
    named = {iron.name: iron for iron in soft_irons()}.get(name) or soft_iron(name)
    return named if named is not None and dict(named.wt) == dict(wt) else None


def scrap_by_name(name: str) -> Scrap | None:
    """The scrap that a name tells of: leaf spring, old file; None for a name that tells nothing."""
    written = f" {_tidy(name)} "
    return next((one for one in scraps() if any(f" {word} " in written for word in one.words)), None)


def without_grade(name: str) -> str:
    """What may be written for a name that is soft iron or scrap and so no grade; empty for any other."""
    iron, found = soft_iron(name), scrap_by_name(name)
    if iron is not None:
        wt = ", ".join(f"{element} = {value:g}" for element, value in iron.wt.items())
        return (
            f"it is no grade; as cladding that stays soft, by what it usually holds, write "
            f'{{ name = "{iron.name}", wt = {{ {wt} }}, role = "cladding" }} (see /scrap of billet-web)'
        )
    if found is not None:
        return f"it is no grade, but often {found.often}; {found.why} (see /scrap of billet-web)"
    return ""


def _tidy(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").split())
