"""What a count of many bars holds: the shares, and the same in words."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from billet.contract.report import to_plain
from billet.contract.values import Estimate, Medium


@dataclass(frozen=True)
class BarCount:
    """Shares of all bars, 0 to 1. Estimates are over the bars that have a window, None where none has.

    `share_in_window_at_set_point`: heated at the plan's set point, as well as it is held, the steel lies
    inside the bar's own window; None where the plan has no set point.
    `share_works_at_set_point`: no steel leaves what it can be taken to. `share_hardened_through`: the middle
    of the blade in the advised medium, `share_edge_hardened` the edge; None where none is advised.
    `tempered_hrc`: the softest layer of the edge after the plan's temper at `temper_c`;
    `share_tempered_as_told`: inside the band that the plan tells; None where it tells none.
    """

    bars: int
    seed: int
    share_shared: float
    share_narrow: float
    share_none: float
    width_k: Estimate | None
    window_low_c: Estimate | None
    window_high_c: Estimate | None
    set_point_c: float | None
    half_width_k: float
    share_in_window_at_set_point: float | None
    share_works_at_set_point: float | None
    medium: Medium | None
    medium_share: Mapping[Medium, float]
    share_hardened_through: float | None
    share_edge_hardened: float | None
    temper_c: float | None
    tempered_hrc: Estimate | None
    share_tempered_as_told: float | None

    def to_dict(self) -> dict[str, Any]:
        """Plain values for JSON."""
        plain: dict[str, Any] = to_plain(self)
        return plain


@dataclass(frozen=True)
class Uncertainty(BarCount):
    """The count with its one sentence, and what it rests on."""

    sentence: str
    assumptions: tuple[str, ...]
