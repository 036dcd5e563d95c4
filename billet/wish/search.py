"""The search: all ways sized, the best of them forged, a few that differ planned in full."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any, Protocol

from billet.contract.report import Report
from billet.contract.wish import InTheWay, Obstacle, Proposal, WishAnswer, WishProgress
from billet.errors import Fault, RecipeError
from billet.tables.wish import wish_numbers
from billet.wish.fitting import (
    Fitted,
    Parse,
    cut_list,
    fitted,
    layer_um,
    longest_bar_mm,
    off_by,
    steel_kg,
    tallest_pile_mm,
)
from billet.wish.schedules import ways
from billet.wish.sizing import Sized, sized
from billet.wish.wanted import Wish


class Planned(Protocol):
    """What the search reads of a plan."""

    @property
    def report(self) -> Report: ...


Plan = Callable[[Mapping[str, Any]], Planned]
Progress = Callable[[WishProgress], None]
"""Called with how far the search is; what it raises ends the search."""


def answered(wish: Wish, parse: Parse, plan: Plan, progress: Progress) -> WishAnswer:
    """Proposals for a wish, or what stands in the way and the bar that comes nearest."""
    far = WishProgress()
    progress(far)
    found = [sized(wish, way) for way in ways(wish)]
    good = sorted((one for one in found if not one.over), key=lambda one: one.order)
    far = WishProgress(sized=len(found), share=0.3)
    progress(far)
    chosen, far = _forged(wish, good, parse, progress, far)
    if chosen:
        proposals = []
        for number, one in enumerate(chosen):
            share = 0.6 + 0.4 * number / len(chosen)
            progress(replace(far, planned=number, chosen=len(chosen), share=share))
            proposals.append(_proposal(wish, one, plan))
        return WishAnswer(len(found), tuple(proposals), (), None)
    nearest, far = _nearest(wish, found, parse, progress, far)
    progress(replace(far, chosen=1, share=0.9))
    if not nearest.over:
        # The reckoning was too strict: forging finds every wish met.
        return WishAnswer(len(found), (_proposal(wish, nearest, plan),), (), None)
    return WishAnswer(len(found), (), _in_the_way(wish, nearest), _proposal(wish, nearest, plan))


def _kind(one: Sized) -> object:
    """Ways of one kind differ in digits only: the same restacks of plates of about the same count."""
    return one.way.pieces, one.way.count // 8


def _forged(
    wish: Wish, good: Sequence[Sized], parse: Parse, progress: Progress, far: WishProgress
) -> tuple[list[Fitted], WishProgress]:
    """The best of each kind that forging bears out, and how far the search is then."""
    numbers = wish_numbers("search")
    found: dict[object, Fitted] = {}
    tried: dict[object, int] = {}
    left = int(numbers["fitted_most"])
    for one in good:
        kind = _kind(one)
        if kind in found or tried.get(kind, 0) >= 2:
            continue
        if left == 0 or len(found) == int(numbers["proposals"]):
            break
        left -= 1
        tried[kind] = tried.get(kind, 0) + 1
        fit = fitted(wish, one, parse)
        far = replace(far, forged=far.forged + 1, share=0.3 + 0.3 * (1.0 - left / numbers["fitted_most"]))
        progress(far)
        if isinstance(fit, Fitted) and not fit.over:
            found[kind] = fit
    return sorted(found.values(), key=lambda one: _order(wish, one)), far


def _order(wish: Wish, one: Fitted) -> tuple[float, float, float]:
    return one.heats, steel_kg(wish, one), one.sized.far


def _nearest(
    wish: Wish, found: Sequence[Sized], parse: Parse, progress: Progress, far: WishProgress
) -> tuple[Fitted, WishProgress]:
    """The bar that is least off what is wished for, and how far the search is then. Raises RecipeError where
    none can be forged."""
    most = int(wish_numbers("search")["fitted_most"])
    fits, why = [], "no plates of this stock make a pile"
    for number, one in enumerate(sorted(found, key=lambda one: one.far)[:most], 1):
        fit = fitted(wish, one, parse)
        far = replace(far, forged=far.forged + 1, share=0.6 + 0.3 * number / most)
        progress(far)
        if isinstance(fit, Fitted):
            fits.append(fit)
        else:
            why = fit
    if not fits:
        raise RecipeError([Fault("want", f"nothing near this bar can be forged: {why}")])
    return min(fits, key=lambda fit: sum(share for share, _ in fit.over.values())), far


def _in_the_way(wish: Wish, one: Fitted) -> tuple[InTheWay, ...]:
    want, limits = wish.want, wish.limits
    asked: dict[Obstacle, float] = {
        "stack": limits.stack_mm, "bar": limits.bar_mm, "heats": float(limits.heats or 0),
        "layers": wish.layers, "share": max(wish.share.values(), default=0.0), "width": want.width_mm,
        "length": wish_numbers("search")["least_piece_mm"], "thickness": want.thickness_mm,
    }  # fmt: skip
    listed = sorted(one.over.items(), key=lambda item: -item[1][0])
    return tuple(InTheWay(what, asked[what], needed) for what, (_, needed) in listed)


def _proposal(wish: Wish, one: Fitted, plan: Plan) -> Proposal:
    report = plan(one.mapping).report
    last, cuts = one.forged.rows[-1], cut_list(wish, one)
    costs = [row.cost for row in cuts]
    bought_kg = steel_kg(wish, one)
    return Proposal(
        recipe=dict(one.mapping),
        recipe_id=report.recipe_id,
        bar_id=report.bar_id,
        start_count=one.sized.way.count,
        pieces=one.sized.way.pieces,
        layers_visible=one.forged.final.layers_visible,
        layer_um=layer_um(one),
        size_mm=(last.height_mm, last.width_mm, last.length_mm),
        stack_mm=round(tallest_pile_mm(one.forged), 6),
        bar_mm=longest_bar_mm(one.forged),
        heats=one.heats,
        steel_kg=bought_kg,
        yield_=last.mass_kg / bought_kg,
        off_by=off_by(wish, one),
        cut_list=cuts,
        cost=None if any(c is None for c in costs) else sum(c for c in costs if c is not None),
        carbon_wt={row.steel: row.carbon_wt.mean for row in report.steels if row.carbon_wt},
        hardening=report.hardening,
        quench=report.quench,
    )
