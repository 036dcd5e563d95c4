"""Templates: the environment with the filters of the library, and a page from its context."""

from dataclasses import fields
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context
from starlette.responses import HTMLResponse

from billet import sources, wording
from web import charts
from web.lettering import fraction, hot, sentence
from web.pages import Page
from web.paper_drawings import (
    bar_drawing,
    bar_is_tall,
    cut_scale,
    figure_drawing,
    stop_rows,
    stops_in_table,
    words_under,
)

FOLDER = Path(__file__).resolve().parent / "templates"


def make_environment() -> Environment:
    """Autoescape, StrictUndefined, filters from `billet.wording`, drawings as the global `charts`."""
    environment = Environment(
        loader=FileSystemLoader(FOLDER),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    environment.filters.update(
        temp=wording.temperature,
        temp_lines=wording.temperature_lines,
        temp_range_lines=lambda pair: wording.temperature_range_lines(pair[0], pair[1]),
        temp_range=lambda pair: wording.temperature_range(pair[0], pair[1]),
        kelvin=wording.difference,
        mm=_length,
        um=_micrometres,
        kg=_mass,
        percent=wording.percent,
        wt=wording.wt,
        hrc=wording.hardness,
        hrc_range=lambda pair: wording.hardness_range(pair[0], pair[1]),
        rate=wording.rate,
        size=_size,
        cite=_citation,
        hot=hot,
        fraction=fraction,
        sentence=sentence,
        minutes=wording.minutes,
        seconds=wording.seconds,
        times=wording.times,
    )
    environment.globals.update(
        charts=charts,
        figure_drawing=figure_drawing,
        bar_drawing=bar_drawing,
        bar_is_tall=bar_is_tall,
        cut_scale=cut_scale,
        stop_rows=stop_rows,
        stops_in_table=stops_in_table,
        words_under=words_under,
    )
    return environment


class Renderer:
    """Turns the context of a page into its answer."""

    def __init__(self) -> None:
        self._environment = make_environment()

    def page(self, page: Page, status: int = 200, headers: dict[str, str] | None = None) -> HTMLResponse:
        """The page as HTML. The JSON twin is named in `Link` where the page shows a report."""
        text = self._environment.get_template(page.template).render(page_names(page))
        return HTMLResponse(text, status_code=status, headers=headers)


def page_names(page: Page) -> dict[str, Any]:
    """What a template sees: the fields of the context, `units`, and `page` itself."""
    return {**{f.name: getattr(page, f.name) for f in fields(page)}, "units": page.units, "page": page}


@pass_context
def _length(context: Context, mm: float) -> str:
    return wording.length(mm, context["units"])


@pass_context
def _micrometres(context: Context, um: float) -> str:
    return wording.micrometres(um, context["units"])


@pass_context
def _mass(context: Context, kg: float) -> str:
    return wording.mass(kg, context["units"])


@pass_context
def _size(context: Context, row: Any) -> str:
    return wording.size(row.height_mm, row.width_mm, row.length_mm, context["units"])


def _citation(key: str) -> str:
    """The citation of a source; words that are no key (the recipe's own range) stay as they are."""
    found = sources().get(key)
    return key if found is None else found.citation
