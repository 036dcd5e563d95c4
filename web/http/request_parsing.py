"""What a request says, read in one place: units, recipe in the address, body of a form or of JSON."""

from dataclasses import dataclass
from typing import Any
from urllib.parse import parse_qsl

from fastapi import Request

from billet import Fault, JsonRefused, read_json, with_own_shop
from web.form.proposing import recipe_of
from web.http.address import AddressRefused, RecipeMapping, decode, encode
from web.http.links import Links, Units
from web.http.problems import Problem

MOST_FIELDS = 4000
FORM_TYPES = ("application/x-www-form-urlencoded",)


@dataclass(frozen=True)
class Body:
    """A body and what it claims to be (media type without parameters, in lower case)."""

    media_type: str
    content: bytes


async def read_body(request: Request) -> Body:
    """The body; its size was bounded before it came here."""
    media_type = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    return Body(media_type, await request.body())


def units_of(request: Request) -> Units:
    """?units=inch, else millimetres. Raises Problem 400 for anything else."""
    return _units(request.query_params.get("units", "mm"))


def _units(asked: str) -> Units:
    if asked == "inch":
        return "inch"
    if asked in ("mm", ""):
        return "mm"
    raise Problem(400, "units are mm or inch", [Fault("units", "units are mm or inch")])


def recipe_in_address(request: Request) -> tuple[str, RecipeMapping]:
    """?r=: the coded recipe, and the recipe for the fire and oils of ?mine=. Raises Problem 400."""
    address, draft = draft_in_address(request)
    return address, with_own_shop(recipe_of(draft), own_shop_in_address(request))


def own_shop_in_address(request: Request) -> RecipeMapping:
    """?mine=: the reader's own fire and oils. Raises Problem 400."""
    coded = request.query_params.get("mine", "")
    try:
        return decode(coded) if coded else {}
    except AddressRefused as refused:
        raise Problem(400, str(refused), [Fault("mine", str(refused))]) from None


def draft_in_address(request: Request) -> tuple[str, RecipeMapping]:
    """?r=: the coded recipe and what it holds, with what the design page keeps beside it. Raises 400."""
    address = request.query_params.get("r", "")
    if not address:
        raise Problem(400, "a recipe belongs in this address", [Fault("r", "r is missing")])
    try:
        return address, decode(address)
    except AddressRefused as refused:
        raise Problem(400, str(refused), [Fault("r", str(refused))]) from None


def json_recipe(body: Body) -> RecipeMapping:
    """A recipe sent as JSON. Raises Problem 415 for another type, 400 for what is no JSON object."""
    if body.media_type != "application/json":
        raise Problem(415, "send the recipe as application/json", headers={"Accept": "application/json"})
    return recipe_from_json(body.content)


def recipe_from_json(content: bytes) -> RecipeMapping:
    """A mapping from JSON. Raises Problem 400, or 422 for JSON that is no object."""
    try:
        value = read_json(content)
    except JsonRefused as refused:
        raise Problem(400, str(refused), [Fault("", str(refused))]) from None
    if not isinstance(value, dict):
        raise Problem(422, "a recipe is a JSON object", [Fault("", "a recipe is a JSON object")])
    return value


def form_pairs(body: Body) -> list[tuple[str, str]]:
    """Names and texts of a urlencoded form. Raises Problem 415 or 400."""
    if body.media_type not in FORM_TYPES:
        raise Problem(415, "send the form as application/x-www-form-urlencoded")
    try:
        return parse_qsl(
            body.content.decode("ascii"),
            keep_blank_values=True,
            max_num_fields=MOST_FIELDS,
            errors="strict",
        )
    except ValueError:
        raise Problem(400, "the form cannot be read") from None


def recipe_in_form(body: Body) -> RecipeMapping:
    """The hidden field `recipe`: a recipe as JSON that is too long for an address."""
    told = dict(form_pairs(body)).get("recipe")
    if told is None:
        raise Problem(400, "a recipe belongs in this form", [Fault("recipe", "recipe is missing")])
    return recipe_from_json(told.encode("utf-8"))


def asked_recipe(request: Request, body: Body) -> tuple[Links, RecipeMapping]:
    """The recipe of a page and the page's links: by ?r=, or posted where it is too long for an address."""
    if request.method == "POST":
        mapping = recipe_in_form(body)
        return links_of(request, units_of_form(form_pairs(body), request), mapping), mapping
    address, mapping = recipe_in_address(request)
    return links_of(request, units_of(request), address), mapping


def units_of_form(pairs: list[tuple[str, str]], request: Request) -> Units:
    """The hidden field `units` of a form, else the address."""
    told = dict(pairs).get("units")
    return units_of(request) if told is None else _units(told)


def links_of(request: Request, units: Units, recipe: dict[str, Any] | str | None = None) -> Links:
    """Links as seen from this page; a recipe too long for an address leaves `address` None."""
    address = recipe if isinstance(recipe, str) or recipe is None else address_or_none(recipe)
    kept = tuple((k, v) for k, v in request.query_params.multi_items() if k not in ("r", "mine", "units"))
    here = path_below_root(request)
    own = request.query_params.get("mine") or None
    return Links(here=here, units=units, address=address, query=kept, own_shop=own)


def path_below_root(request: Request) -> str:
    """The path of a request as it was sent, below the prefix under which the service stands."""
    sent = request.scope.get("raw_path") or request.scope["path"].encode("utf-8")
    path = sent.partition(b"?")[0].decode("latin-1")
    return path.removeprefix(request.scope.get("root_path", "").rstrip("/")) or "/"


def address_or_none(recipe: dict[str, Any]) -> str | None:
    """The coded recipe, None where it is too long."""
    try:
        return encode(recipe)
    except AddressRefused:
        return None
