"""Contexts of the pages over many bars: sweep, partners, bar wanted."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from billet import Fault, Partners, PartnerTable, Proposal, Sweep, WishAnswer, WishProgress
from web.form.view import Group
from web.http.links import Links
from web.pages import Page

VERDICT_WORDS = {"weld": "Weld", "hardens": "Hardens together", "oil": "Oil", "ms": "Start of martensite",
                 "contrast": "Contrast"}  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class SweepPage(Page):
    """GET /sweep?r=&place=&low=&high=&step= : the answer drawn against one number of a recipe."""

    template: ClassVar[str] = "sweep.html"
    title: str
    asked: Mapping[str, str]
    places: Sequence[tuple[str, str, Any]]
    """Every place that holds a number: as it is written, in words, and the number."""
    swept: str
    """The place that is swept, in words."""
    sweep: Sweep | None
    faults: Sequence[Fault]


@dataclass(frozen=True, kw_only=True)
class PartnersPage(Page):
    """GET /partners : partners of one steel, or every steel beside every other as a picture."""

    template: ClassVar[str] = "partners.html"
    asked: Mapping[str, str]
    wt: Mapping[str, str]
    partners: Partners | None
    rows: Sequence[Any]
    table: PartnerTable | None
    verdicts: Mapping[str, str]
    fires: Sequence[Any]
    faults: Sequence[Fault]


@dataclass(frozen=True, kw_only=True)
class ProposalCard:
    """One proposal with links that carry its recipe."""

    told: Proposal
    links: Links
    recipe_text: str


@dataclass(frozen=True, kw_only=True)
class WishPage(Page):
    """GET and POST /wish : the bar wanted as fields and as text, and the proposals.

    `open_text` where the text was sent, not the fields; `faults` are those of no field.
    """

    template: ClassVar[str] = "wish.html"
    groups: Sequence[Group]
    text: str
    open_text: bool
    known_steels: Sequence[str]
    answer: WishAnswer | None
    proposed: Sequence[ProposalCard]
    faults: Sequence[Fault]


def far_words(far: WishProgress) -> str:
    """How far a search is, as the page tells it."""
    if far.chosen:
        return f"Sized {far.sized}, forged {far.forged}, planned {far.planned} of {far.chosen}"
    return f"Sized {far.sized}, forged {far.forged}" if far.sized else "Sizing all ways"
