"""Partners and wishes with their words."""

from dataclasses import replace
from typing import Any

from billet.contract.partners import VERDICTS, Judged, PartnerRow, Partners
from billet.contract.values import Fact, Reason
from billet.contract.wish import InTheWay, WishAnswer
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
    """The same answer, what stands in the way told in words."""
    return replace(found, none_because=tuple(_told(one) for one in found.none_because))


def _told(one: InTheWay) -> InTheWay:
    values: dict[str, Fact] = {"asked": one.asked, "needed": one.needed}
    return replace(one, text=said(Reason(f"wish-{one.what}", values)))
