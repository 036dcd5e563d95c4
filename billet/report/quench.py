"""The quench as rows of the report."""

from collections.abc import Iterable

from billet.contract.hardening_rows import (
    Compromise,
    EdgeRow,
    OwnOilRow,
    QuenchRow,
    QuenchSteel,
    ThicknessRow,
)
from billet.contract.values import Reason
from billet.diffusion.profile import Profile, carbon_by_steel, removed
from billet.diffusion.side_by_side import side_by_side
from billet.hardening.blade import BladeColumn, BladeColumns, profile_layers
from billet.hardening.critical_rate import told_rates
from billet.hardening.quench import BarQuench, SteelQuench
from billet.hardening.quench_grades import GRADES
from billet.hardening.shop_oils import OilByBar
from billet.recipe.model import Blade
from billet.report.words import said
from billet.tables.media import medium


def quench_row(found: BarQuench, edge: EdgeRow | None) -> QuenchRow:
    """Facts of the quench with their words."""
    return QuenchRow(
        found.verdict,
        found.medium,
        medium(found.medium).bath_c if found.medium is not None else None,
        tuple(ThicknessRow(t.thickness_mm, t.verdict, t.medium, t.grade) for t in found.by_thickness),
        tuple(_steel(s) for s in found.per_steel),
        tuple(Compromise(p.steel, said(p.how)) for p in found.pays),
        tuple(said(r) for r in found.reasons),
        found.grade,
        found.also,
        tuple(_oil(o) for o in found.in_shop),
        edge,
    )


def edge_row(columns: BladeColumns, blade: Blade | None) -> EdgeRow | None:
    """What the edge is made of: its thickness about the middle of the columns that it is cut from, or all of
    one whose layers reach every face alike; None without a blade."""
    if blade is None:
        return None
    pieces = [_at_edge(column, blade.edge_mm) for column in columns]
    layers = [layer for piece in pieces for layer in profile_layers(piece)]
    steels = tuple(dict.fromkeys(layer.steel for layer in layers))
    metal = side_by_side(pieces, [column.share for column in columns])
    return EdgeRow(len(layers), steels, dict(carbon_by_steel(metal)))


def _at_edge(column: BladeColumn, edge_mm: float) -> Profile:
    spare_mm = 0.5 * max(column.profile.height_mm - edge_mm, 0.0)
    return column.profile if column.alike else removed(column.profile, spare_mm, spare_mm)


def _steel(found: SteelQuench) -> QuenchSteel:
    rates = found.ask.rates
    told = None if rates.estimated else told_rates(rates)
    return QuenchSteel(
        found.ask.name,
        found.slowest,
        found.fastest,
        dict(found.hardens_to_mm),
        None if told is None else told.critical_rate_k_s,
        None if told is None else told.ideal_diameter_mm,
        _joined(found.because),
        dict(found.grades),
        dict(found.margin),
        float(rates.asked[0]),
    )


def _oil(found: OilByBar) -> OwnOilRow:
    return OwnOilRow(
        found.oil.name,
        found.medium,
        found.oil.nickel_ball_s,
        GRADES[found.grade],
        found.hardens_to_mm,
        dict(found.edge_hrc),
        dict(found.spine_hrc),
        _joined(found.because),
    )


def _joined(reasons: Iterable[Reason]) -> str:
    return "; ".join(said(reason) for reason in reasons)
