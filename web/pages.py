"""What each page is given: one typed context a template, and nothing computed in the template.

`Page` holds what `base.html` needs; every context inherits it. The environment (see
`web/rendering.py`) adds the filters temp, temp_range, kelvin, mm, um, kg, percent, wt, hrc, minutes
and the global `charts` (the package `web.charts`). `mm`, `um` and `kg` take the units of the page by
themselves. A misspelt name is an error (StrictUndefined).
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, ClassVar

from billet import (
    STARTS,
    CriticalTime,
    Fault,
    HardnessCurve,
    HeatCurve,
    QuenchPicture,
    Report,
    Scrap,
    Sheet,
    SoftIron,
    Start,
    Study,
    TimeCurve,
    Uncertainty,
    hardness_curves,
    quench_picture,
)
from web.faces import NO_FACES, Faces, FaceShown
from web.http.links import Links, Units
from web.paper import Side, large_code, sides, told_link
from web.plan_facts import PlanFacts

DRAWN_MEDIA = ("water", "fast oil", "medium oil", "slow oil", "air")


@dataclass(frozen=True, kw_only=True)
class Page:
    """What every page has."""

    template: ClassVar[str]

    links: Links
    version: str
    """Version of the program, for the title block."""

    @property
    def units(self) -> Units:
        return self.links.units


@dataclass(frozen=True)
class RecipeCard:
    """An example recipe: its name in the address, its title, the comment it opens with, its picture."""

    name: str
    title: str
    says: str
    report: Report | None = None
    """What its plan says, for the picture; None where it cannot be planned."""
    face: str | None = None
    """The part of an address that asks for its picture; None where none can be drawn or linked."""


@dataclass(frozen=True, kw_only=True)
class Home(Page):
    """GET / : the recipes and the way in; a form `POST /upload` (multipart, field `file`)."""

    template: ClassVar[str] = "home.html"
    recipes: Sequence[RecipeCard]
    unreadable: Sequence[Fault] = ()
    """Files of the folder that are no recipe; `where` is the name of the file."""


@dataclass(frozen=True, kw_only=True)
class Plan(PlanFacts, Page):
    """GET /plan : the report. Where `links.address` is None (too long for a link) the page was
    answered to a POST: sheets, design and download then go by POST with the hidden field `recipe`
    = `recipe_text` to the same paths (/sheet/<kind>, /design, /recipe.toml)."""

    template: ClassVar[str] = "plan.html"
    report: Report
    recipe_text: str
    public_link: str | None
    """The whole address of this page, only with --public-url."""
    faces: Faces = NO_FACES
    """Pictures of the bar."""

    @property
    def hardness(self) -> tuple[HardnessCurve, ...]:
        """For the picture of hardness over hardening temperature."""
        return hardness_curves(self.report)

    @property
    def cooling(self) -> QuenchPicture:
        """For the picture of the quench."""
        return quench_picture(self.report)


@dataclass(frozen=True, kw_only=True)
class StudyPage(Page):
    """GET /study : what stands behind a plan; a recipe too long for a link comes by POST."""

    template: ClassVar[str] = "study.html"
    study: Study
    recipe_text: str

    @property
    def cooling(self) -> tuple[TimeCurve, ...]:
        """Curves of the usual media and of the chosen one, for the picture."""
        shown = {*DRAWN_MEDIA, self.study.cooling.medium}
        return tuple(row.curve for row in self.study.cooling.media if row.medium in shown)

    @property
    def gates(self) -> tuple[CriticalTime, ...]:
        """By when each steel must have passed 550 C, for the picture."""
        rows = ((row.steel, row.within_s) for row in self.study.cooling.steels)
        return tuple(CriticalTime(name, s.value, s.low, s.high) for name, s in rows if s is not None)

    @property
    def starts(self) -> tuple[TimeCurve, ...]:
        """Start of transformation of each steel, for the picture."""
        return tuple(row.start.line for row in self.study.cooling.steels if row.start is not None)


@dataclass(frozen=True, kw_only=True)
class UncertaintyPage(Page):
    """GET /uncertainty : how many bars of a hundred come out; a long recipe comes by POST."""

    template: ClassVar[str] = "uncertainty.html"
    uncertainty: Uncertainty
    recipe_text: str


@dataclass(frozen=True, kw_only=True)
class SheetPage(Page):
    """GET /sheet/<kind> : forge, harden, buyer. `sheet` is billet's Sheet (cells already worded)."""

    template: ClassVar[str] = "sheet.html"
    kind: str
    sheet: Sheet
    report: Report
    public_link: str | None
    """Only with --public-url; on the buyer's sheet and the label only with share_recipe too."""
    face: FaceShown | None = None
    """The face of the bar, on the buyer's sheet and the label, where it can be drawn."""
    qr_svg: str | None
    """The same link as QR, markup ready to stand in the page; None where there is no link."""

    @property
    def sides(self) -> tuple[Side, ...]:
        """The sides of paper, each set as large as it may be."""
        ratio = None if self.face is None else self.face.ratio
        return sides(self.sheet, self.kind, self.report, self.units, self.public_link, ratio)


@dataclass(frozen=True, kw_only=True)
class LabelPage(SheetPage):
    """GET /sheet/label : as the sheets, small."""

    template: ClassVar[str] = "label.html"

    @property
    def link_told(self) -> str:
        """What stands under the label of its link; empty without."""
        return told_link(self.public_link) if self.public_link else ""

    @property
    def large_code(self) -> bool:
        """Whether the square needs the more room of a long link."""
        return self.public_link is not None and large_code(self.public_link)


@dataclass(frozen=True, kw_only=True)
class Steels(Page):
    """GET /steels?q= : the library, or what was found."""

    template: ClassVar[str] = "steels.html"
    search: str
    steels: Sequence[Any]


@dataclass(frozen=True, kw_only=True)
class SteelPage(Page):
    """GET /steels/<designation or number>."""

    template: ClassVar[str] = "steel.html"
    steel: Any


@dataclass(frozen=True)
class StateQuestion:
    """What was asked on /state, as it was typed; `wt` holds every element, empty where not given.

    The fields of the form are named `steel`, `temperature`, `start` (one of `starts`) and as the
    elements are.
    """

    starts: ClassVar[tuple[Start, ...]] = STARTS
    steel: str
    wt: Mapping[str, str]
    temperature: str
    start: str


@dataclass(frozen=True, kw_only=True)
class StatePage(Page):
    """GET /state?steel=&C=&Mn=...&temperature= : what a steel is at a temperature."""

    template: ClassVar[str] = "state.html"
    question: StateQuestion
    state: Any | None
    told: Sequence[str]
    curve: HeatCurve | None
    faults: Sequence[Fault]


@dataclass(frozen=True, kw_only=True)
class Methods(Page):
    """GET /methods : ways to judge and hold the hardening heat, and every formula with its source."""

    template: ClassVar[str] = "methods.html"
    methods: Sequence[Any]
    formulas: Sequence[Any]
    rules: Sequence[Any]
    plain_line: Sequence[Any]


@dataclass(frozen=True, kw_only=True)
class Glossary(Page):
    """GET /glossary."""

    template: ClassVar[str] = "glossary.html"
    terms: Mapping[str, str]


@dataclass(frozen=True, kw_only=True)
class ScrapPage(Page):
    """GET /scrap : steel without a grade, and the test of a coupon."""

    template: ClassVar[str] = "scrap.html"
    scraps: Sequence[Scrap]
    soft: Sequence[SoftIron]


@dataclass(frozen=True)
class PyrometerQuestion:
    """What was typed on /pyrometer."""

    reading: str
    set_emissivity: str
    true_emissivity: str
    band: str
    walls: str


@dataclass(frozen=True, kw_only=True)
class Pyrometer(Page):
    """GET /pyrometer?reading=&set=&true=&band=&walls= : what a gun's reading means.

    The fields of the form are named as the query. `answer` is the temperature of the surface, C.
    """

    template: ClassVar[str] = "pyrometer.html"
    question: PyrometerQuestion
    bands: Sequence[str]
    answer: float | None
    faults: Sequence[Fault]


@dataclass(frozen=True, kw_only=True)
class ErrorPage(Page):
    """Any refusal, in the words of the API."""

    template: ClassVar[str] = "error.html"
    status: int
    heading: str
    detail: str
    faults: Sequence[Fault]


@dataclass(frozen=True, kw_only=True)
class Docs(Page):
    """GET /docs : the interface, drawn by /static/docs.js from /openapi.json."""

    template: ClassVar[str] = "docs.html"
