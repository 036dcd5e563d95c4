"""The count of many bars with its words."""

from collections.abc import Iterable
from dataclasses import fields
from typing import Any

from billet.contract.uncertainty import BarCount, Uncertainty
from billet.contract.values import Fact, Reason
from billet.report.words import said


def worded_count(count: BarCount, assumptions: Iterable[Reason]) -> Uncertainty:
    """The same facts with the sentence and the assumptions."""
    facts: dict[str, Any] = {field.name: getattr(count, field.name) for field in fields(BarCount)}
    told = tuple(said(reason) for reason in assumptions)
    return Uncertainty(**facts, sentence=said(_reason(count)), assumptions=told)


def _reason(count: BarCount) -> Reason:
    values: dict[str, Fact] = {
        "shared_frac": count.share_shared,
        "in_window_frac": count.share_in_window_at_set_point,
        "works_frac": count.share_works_at_set_point,
        "through_frac": count.share_hardened_through,
        "edge_frac": count.share_edge_hardened,
        "temper_c": count.temper_c,
        "tempered_low_hrc": None if count.tempered_hrc is None else count.tempered_hrc.low,
        "tempered_high_hrc": None if count.tempered_hrc is None else count.tempered_hrc.high,
        "set_point_c": count.set_point_c,
        "half_width_k": count.half_width_k,
        "medium": count.medium,
    }
    return Reason("count-of-bars", values)
