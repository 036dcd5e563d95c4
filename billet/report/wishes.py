"""Partners and wishes with their words."""

from dataclasses import replace
from typing import Any

from billet.contract.partners import VERDICTS, Judged, PartnerRow, Partners
from billet.contract.values import Fact, Reason
from billet.contract.wish import InTheWay, Proposal, WishAnswer
from billet.report.words import said


def worded_partners(found: Partners) -> Partners:
    """The same verdicts with their reasons in words."""
    return replace(found, rows=tuple(_row(row) for row in found.rows))


def _row(row: PartnerRow) -> PartnerRow:
    told: dict[str, Any] = {name: _judged(getattr(row, name)) for name in VERDICTS}
    return replace(row, **told)


def _judged(one: Judged) -> Judged:
    return replace(one, because=tuple(said(reason) for reason in one.reasons))


def worded_wish(found: WishAnswer) -> WishAnswer:
    """The same answer, what stands in the way and which fire a bar needs told in words."""
    return replace(
        found,
        none_because=tuple(_told(one) for one in found.none_because),
        proposals=tuple(_with_fire(one) for one in found.proposals),
        nearest=None if found.nearest is None else _with_fire(found.nearest),
    )


def _with_fire(one: Proposal) -> Proposal:
    row = one.hardening
    if row.good_within_k is None or row.works_within_k is None:
        return one
    rough = {
        grade: max((m for m in row.methods if m.grade == grade), key=lambda m: m.half_width_k, default=None)
        for grade in ("good", "works")
    }
    values: dict[str, Fact] = {
        "good_k": row.good_within_k, "works_k": row.works_within_k,
        **{grade: None if method is None else method.label for grade, method in rough.items()},
    }  # fmt: skip
    return replace(one, fire=said(Reason("wish-fire", values)))


def _told(one: InTheWay) -> InTheWay:
    values: dict[str, Fact] = {"asked": one.asked, "needed": one.needed}
    return replace(one, text=said(Reason(f"wish-{one.what}", values)))
