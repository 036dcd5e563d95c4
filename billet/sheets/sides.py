"""How a sheet without steps is spread over sides of paper: what the hand needs stands on the first."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from billet.sheets.model import Page, Section, text


def spread_sections(whole: Page, holds: Callable[[Page], bool]) -> tuple[Page, ...]:
    """One side where it holds all; else a first with what is needed at once, which tells what the next hold.

    Of those that may stand on either side as few go over as must, the last first. What no side holds with
    others has a side of its own.
    """
    spared = replace(whole, sections=tuple(s for s in whole.sections if s.stands != "spare"))
    for page in (whole, spared):
        if holds(page):
            return (page,)
    stays, goes = _kept(whole, holds)
    sides = [*_filled(whole, stays, goes, holds), *_filled(whole, goes, None, holds)]
    later = [Page(whole.statement, "", tuple(map(_over, side))) for side in sides[1:]]
    return (_first(whole, sides[0], sides[1:]), *later)


def _kept(whole: Page, holds: Callable[[Page], bool]) -> tuple[list[Section], list[Section]]:
    """What stays on the first side and what goes over, each in its order."""

    def parted(gone: Sequence[Section]) -> tuple[list[Section], list[Section]]:
        over = [any(s is other for other in gone) or s.stands == "second" for s in whole.sections]
        stays = [s for s, goes in zip(whole.sections, over, strict=True) if not goes]
        return stays, [s for s, goes in zip(whole.sections, over, strict=True) if goes]

    def fit(gone: Sequence[Section]) -> bool:
        stays, goes = parted(gone)
        return holds(_first(whole, stays, [goes]))

    gone: list[Section] = []
    movable = [section for section in whole.sections if section.stands == "either"]
    while movable and not fit(gone):
        gone.append(movable.pop())
    for section in gone[:-1]:
        without = [other for other in gone if other is not section]
        gone = without if fit(without) else gone
    return parted(gone)


def _filled(
    whole: Page, sections: Sequence[Section], after: Sequence[Section] | None, holds: Callable[[Page], bool]
) -> list[list[Section]]:
    """The sections on as many sides as they need, each as full as it goes; the first of all where what stands
    `after` it is told."""
    sides: list[list[Section]] = []
    for place, section in enumerate(sections):
        trial = [*sides[-1], section] if sides else []
        if after is not None and len(sides) == 1:
            page = _first(whole, trial, [[*sections[place + 1 :], *after]])
        else:
            page = Page(whole.statement, "", tuple(map(_over, trial)))
        if sides and holds(page):
            sides[-1].append(section)
        else:
            sides.append([section])
    return sides


def _first(whole: Page, sections: Sequence[Section], later: Sequence[Sequence[Section]]) -> Page:
    """The first side, which ends with what stands on the others."""
    told = [
        f"On side {number}: {', '.join(map(_name, side))}."
        for number, side in enumerate(later, start=2)
        if side
    ]
    return replace(whole, sections=(*sections, *([text("", [" ".join(told)])] if told else [])))


def _name(section: Section) -> str:
    words = section.name or section.heading
    return words[:1].lower() + words[1:]


def _over(section: Section) -> Section:
    """A section as it stands on a later side: over the whole width, under a heading."""
    return replace(section, heading=section.heading or section.name, column="wide")
