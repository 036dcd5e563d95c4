"""What the design page is given: the form, the answer, and which step is drawn large."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

from billet import Fault, Report
from web.faces import Faces
from web.form.view import FormView
from web.http.links import Links
from web.pages import Page


@dataclass(frozen=True, kw_only=True)
class Design(Page):
    """GET and POST /design : the bench, where a bar is laid and its answer stands beside it.

    `links` carry the draft with the marks of the page, `made` the recipe alone: to plan and sheets.
    `recipe_text` is the recipe as JSON, for hidden fields named `recipe` where it has no address.
    """

    template: ClassVar[str] = "design.html"
    form: FormView
    faults: Sequence[Fault]
    report: Report | None
    recipe_text: str
    too_long: bool
    draft_text: str
    """The draft as JSON where it is too long for a link, for a browser that keeps it; else empty."""
    made: Links
    starts: Mapping[str, str]
    faces: Faces
    """The pictures of the bar, of which the first is shown."""
    chosen: int = 0
    """The step that is looked at, of which the bar is drawn large; 0 is the stack as laid."""
    chosen_bar: int | None = None
    """Where that step is one of a bar made first: which."""
    looked_at: str = ""
    """The id of its card; empty while no bar can be made."""
    anchor: str = ""
    """The id of what a button has put in or changed; empty where none was pressed."""

    @property
    def bar_reports(self) -> tuple[Report, ...]:
        """For the drawings: the report as if each of the bars made first were the bar."""
        if self.report is None:
            return ()
        made = {row.name: row.schedule for row in self.report.bars}
        told = self.report.recipe.get("bars", {})
        return tuple(
            replace(
                self.report, schedule=made[name], recipe={**self.report.recipe, "steps": bar.get("steps", ())}
            )
            for name, bar in told.items()
        )


@dataclass(frozen=True, kw_only=True)
class Bench(Design):
    """POST /design/preview : the same without the frame of the page, for a form that is worked on."""

    template: ClassVar[str] = "partials/bench.html"
