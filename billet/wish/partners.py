"""Every partner of a steel, and every steel beside every other, by the array rules in one batch."""

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from billet.composition import Composition
from billet.contract.partners import VERDICTS, Judged, PairVerdict, PartnerRow, Partners, PartnerTable
from billet.errors import OutOfDomain
from billet.hardening.shop_oils import OwnOil
from billet.recipe.steel import usual_density_g_cm3
from billet.tables.steels import Steel, steels
from billet.tables.wish import wish_numbers
from billet.wish.pair_heat import hardening_verdict
from billet.wish.pair_judge import PairJudge, judge
from billet.wish.pair_verdicts import contrast_verdict, ms_verdict, oil_verdict, weld_verdict
from billet.wish.pairs import PairSteel, Shop, decided_pairs


@dataclass(frozen=True)
class PartnerQuestion:
    """What is asked for: the share of the mass that the steel asked for has, how far off the fire may be,
    the thickest section that is quenched, and the smith's own oils. Raises OutOfDomain."""

    share: float
    half_width_k: float
    section_mm: float
    oils: tuple[OwnOil, ...] = ()

    def __post_init__(self) -> None:
        numbers = wish_numbers("partners")
        _within("share", self.share, numbers["share_limits"])
        _within("section_mm", self.section_mm, numbers["section_limits_mm"])
        _within("half_width_k", self.half_width_k, (0.0, 200.0))
        if len(self.oils) > numbers["most_oils"]:
            raise OutOfDomain("oils", len(self.oils), f"at most {numbers['most_oils']}")

    @property
    def shop(self) -> Shop:
        return Shop(self.share, self.half_width_k, self.section_mm)


def _within(name: str, value: float, limits: Sequence[float]) -> None:
    if not limits[0] <= value <= limits[1]:
        raise OutOfDomain(name, value, f"{limits[0]:g} to {limits[1]:g}")


def of_grade(grade: Steel) -> PairSteel:
    """A grade of the library."""
    return PairSteel(grade.designation, grade.number, grade.nominal, grade.density_g_cm3, grade)


def of_analysis(name: str, analysis: Composition) -> PairSteel:
    """A steel by its own analysis."""
    return PairSteel(name, "", analysis, usual_density_g_cm3(analysis), None)


def partners_of(steel: PairSteel, asked: PartnerQuestion) -> Partners:
    """Every other steel of the library beside this one."""
    others = [of_grade(grade) for grade in steels() if grade is not steel.grade]
    listed = [steel, *others]
    first = np.zeros(len(others), dtype=np.intp)
    second = np.arange(1, len(listed), dtype=np.intp)
    found = judge(decided_pairs(listed, first, second, asked.shop), asked.oils)
    return Partners(
        steel=steel.name,
        share=asked.share,
        half_width_k=asked.half_width_k,
        section_mm=asked.section_mm,
        level_c=wish_numbers("partners")["level_c"],
        oils=tuple(oil.name for oil in asked.oils),
        rows=tuple(_row(found, i, asked.half_width_k) for i in range(len(others))),
    )


def _row(found: PairJudge, i: int, half_width_k: float) -> PartnerRow:
    mine, other = found.both(i)
    carbon = found.pairs.carbon_wt[:, i]
    return PartnerRow(
        steel=other.name,
        number=other.number,
        carbon_wt={mine.name: float(carbon[0]), other.name: float(carbon[1])},
        weld=weld_verdict(found, i),
        hardens=hardening_verdict(found, i, half_width_k),
        oil=oil_verdict(found, i),
        ms=ms_verdict(found, i),
        contrast=contrast_verdict(found, i),
    )


@lru_cache(maxsize=8)
def partner_table(asked: PartnerQuestion) -> PartnerTable:
    """Every steel of the library beside every other; the steel of the row has the share asked for."""
    listed = [of_grade(grade) for grade in steels()]
    count = len(listed)
    first, second = (np.asarray(part, dtype=np.intp) for part in np.nonzero(_asked_pairs(count, asked.share)))
    found = judge(decided_pairs(listed, first, second, asked.shop), asked.oils)
    told: dict[str, list[list[PairVerdict | None]]] = {
        v: [[None] * count for _ in range(count)] for v in VERDICTS
    }
    for i, (a, b) in enumerate(zip(first.tolist(), second.tolist(), strict=True)):
        row = _row(found, i, asked.half_width_k)
        for name, table in told.items():
            judged: Judged = getattr(row, name)
            table[a][b] = judged.verdict
            if asked.share == EVEN:
                table[b][a] = judged.verdict
    return PartnerTable(
        tuple(steel.name for steel in listed),
        asked.share,
        asked.half_width_k,
        {name: tuple(tuple(line) for line in table) for name, table in told.items()},
    )


EVEN = 0.5


def _asked_pairs(count: int, share: float) -> np.ndarray[tuple[int, int], np.dtype[np.bool_]]:
    """Which pairs are to be computed: at even shares each once, else from both sides."""
    pairs = ~np.eye(count, dtype=bool)
    found: np.ndarray[tuple[int, int], np.dtype[np.bool_]] = np.triu(pairs) if share == EVEN else pairs
    return found
