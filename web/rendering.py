"""Templates: the environment with the filters of the library, and a page from its context."""

from collections.abc import Sequence
from dataclasses import fields
from functools import cache
from pathlib import Path
from typing import Any

from jinja2 import Environment, FileSystemLoader, StrictUndefined, pass_context
from jinja2.runtime import Context
from markupsafe import Markup
from starlette.responses import HTMLResponse

from billet import fahrenheit_first, sources, wording
from web import charts
from web.form.fields import in_words
from web.lettering import fraction, hot, sentence
from web.pages import Page
from web.paper_drawings import (
    bar_drawing,
    figure_drawing,
    ruler_words,
)
from web.paper_heights import long_names
from web.paper_steps import hot_words, order_line

LEAST_FRACTION_MM = 2.4
"""Under 3/32 inch the nearest thirty-second is too far off to stop at."""
FOLDER = Path(__file__).resolve().parent / "templates"


@cache
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
        temp=_temperature,
        temp_lines=_temperature_lines,
        temp_range_lines=_range_lines,
        temp_range=_range,
        kelvin=_difference,
        mm=_length,
        mm_list=_lengths,
        mm_parts=_length_large,
        um=_micrometres,
        kg=_mass,
        percent=wording.percent,
        wt=wording.wt,
        hrc=wording.hardness,
        hrc_range=lambda pair: wording.hardness_range(pair[0], pair[1]),
        rate=_rate,
        size=_size,
        thirty_seconds=wording.thirty_seconds,
        cite=_citation,
        hot=_hot,
        fraction=fraction,
        sentence=_sentence,
        in_words=in_words,
        in_shop=_in_shop,
        minutes=wording.minutes,
        seconds=wording.seconds,
        times=wording.times,
    )
    environment.globals.update(
        charts=charts,
        figure_drawing=figure_drawing,
        bar_drawing=bar_drawing,
        ruler_words=ruler_words,
        order_line=order_line,
        hot_words=hot_words,
        long_names=long_names,
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
def _in_shop(context: Context, words: str) -> str:
    """Words of the library, or a drawing, for this shop: one in inches reads Fahrenheit first, no kelvin."""
    if context["units"] != "inch":
        return words
    read = fahrenheit_first(words)
    return Markup(read) if isinstance(words, Markup) else read


@pass_context
def _hot(context: Context, words: str) -> Markup:
    """Words as the shop reads them, their temperatures marked."""
    return hot(_in_shop(context, words))


@pass_context
def _sentence(context: Context, words: str, names: Sequence[str] = ()) -> str:
    """Words as the shop reads them, with a capital and a full stop."""
    return sentence(_in_shop(context, words), names)


@pass_context
def _temperature(context: Context, celsius: float) -> str:
    return wording.temperature(celsius, context["units"])


@pass_context
def _temperature_lines(context: Context, celsius: float) -> tuple[str, str]:
    return wording.in_order(wording.temperature_lines(celsius), context["units"])


@pass_context
def _range_lines(context: Context, pair: tuple[float, float]) -> tuple[str, str]:
    return wording.in_order(wording.temperature_range_lines(*pair), context["units"])


@pass_context
def _range(context: Context, pair: tuple[float, float]) -> str:
    return wording.temperature_range(*pair, context["units"])


@pass_context
def _difference(context: Context, kelvins: float) -> str:
    return wording.difference(kelvins, context["units"])


@pass_context
def _length(context: Context, mm: float) -> str:
    return wording.length(mm, context["units"])


@pass_context
def _length_large(context: Context, mm: float) -> Markup:
    """A length to be read from afar: the number, its unit small; in inches the fraction large."""
    number, _, unit = wording.length(mm, context["units"]).partition(wording.THIN)
    if context["units"] == "mm":
        return Markup('{} <span class="unit">{}</span>').format(number, unit)
    if mm < LEAST_FRACTION_MM:
        return Markup('{} <span class="unit">{}</span>').format(number, unit)
    parts = Markup('{} <span class="unit">{}</span> <span class="aside">{} {}</span>')
    return parts.format(wording.thirty_seconds(mm), unit, number, unit)


@pass_context
def _lengths(context: Context, values_mm: Sequence[float]) -> str:
    return wording.lengths(values_mm, context["units"])


@pass_context
def _micrometres(context: Context, um: float) -> str:
    return wording.micrometres(um, context["units"])


@pass_context
def _mass(context: Context, kg: float) -> str:
    return wording.mass(kg, context["units"])


@pass_context
def _size(context: Context, row: Any) -> str:
    return wording.size(row.height_mm, row.width_mm, row.length_mm, context["units"])


@pass_context
def _rate(context: Context, k_s: float) -> str:
    return _in_shop(context, wording.rate(k_s))


def _citation(key: str) -> str:
    """The citation of a source; words that are no key (the recipe's own range) stay as they are."""
    found = sources().get(key)
    return key if found is None else found.citation
