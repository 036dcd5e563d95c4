"""The bar wanted as fields: texts to the mapping of a wish, and back with each fault at its field."""

import re
from collections.abc import Iterable, Mapping
from typing import Any

from billet import Fault, quantities
from web.form.fault_places import FaultPlaces
from web.form.fields import Spec
from web.form.texts import WRITERS, Writer, list_of, table_of
from web.form.view import Group
from web.http.links import Units

FORMAT = 1
LONGEST = 200
APART = re.compile(r"\s*;\s*|,\s+|\s+and\s+")
"""What stands between the numbers of a list; a comma alone is a decimal comma."""
LIST_HINT = "one or more; put ; or a comma and a space between"
ROLES = {"dark": "Dark steel", "bright": "Bright steel", "core": "Core"}
WANT = (
    Spec("thickness_mm", "length", "Finished thickness", "mm", required=True),
    Spec("width_mm", "length", "Finished width", "mm", required=True),
    Spec("length_mm", "length", "Finished length", "mm", required=True),
    Spec("grind_mm", "length", "Ground off each face", "mm", fallback="0.3 mm"),
    Spec("layers", "whole", "Layers", hint="or tell how thick one is"),
    Spec(
        "layer_um", "number", "Thickness of a layer", "µm", hint="in thousandths of a mm, instead of layers"
    ),
    Spec("core_mm", "length", "Finished thickness of the core", "mm", fallback="a third of the bar"),
)
LIMITS = (
    Spec("stack_mm", "length", "Tallest pile you can weld", "mm", required=True),
    Spec("bar_mm", "length", "Longest bar you can heat", "mm", required=True),
    Spec("heats", "whole", "Most heats", hint="welds and draws together; empty: as many as it takes"),
)
PRICE = Spec("price_kg", "number", "Price of a kilogram")
WIDTHS = Spec("width_mm", "text", "Widths of the plates in stock", hint=LIST_HINT)
TITLE = Spec("title", "text", "Name of the bar")


def wish_of_form(pairs: Iterable[tuple[str, str]], units: Units) -> dict[str, Any]:
    """The mapping that the fields say; a text that cannot be read stays as it is, an empty is left out."""
    texts = {name: text.strip()[:LONGEST] for name, text in pairs}

    def told(prefix: str, specs: Iterable[Spec]) -> dict[str, Any]:
        found = {s.key: _value(s, texts.get(f"{prefix}.{s.key}", ""), units) for s in specs}
        return {key: value for key, value in found.items() if value is not None}

    roles = [role for role in ROLES if role != "core" or texts.get("steels.core")]
    gauges = {role: _listed(texts.get(f"stock.thickness_mm.{role}", ""), units) for role in roles}
    prices = {role: _value(PRICE, texts.get(f"stock.price_kg.{role}", ""), units) for role in roles}
    stock: dict[str, Any] = {"width_mm": _listed(texts.get("stock.width_mm", ""), units)}
    stock["thickness_mm"] = {role: value for role, value in gauges.items() if value}
    if any(price is not None for price in prices.values()):
        stock["price_kg"] = {role: price for role, price in prices.items() if price is not None}
    want = told("want", WANT)
    if "core" in roles:
        want["core"] = "core"
    wish: dict[str, Any] = {"format": FORMAT, "title": texts.get("title") or "Bar wanted"}
    wish["steels"] = {role: texts.get(f"steels.{role}", "") for role in roles}
    return wish | {"want": want, "stock": stock, "limits": told("limits", LIMITS)}


def _value(spec: Spec, text: str, units: Units) -> Any:
    if not text:
        return None
    try:
        if spec.kind == "length":
            return quantities.shortest(quantities.read_length_mm(text, units))
        return quantities.shortest(quantities.read_number(text, "mm" if spec.unit == "mm" else ""))
    except quantities.NotAQuantity:
        return text


def _listed(text: str, units: Units) -> list[Any]:
    """The lengths of a list, those that cannot be read as they were written."""
    return [_value(WANT[0], part, units) for part in APART.split(text) if part]


def by_roles(wish: Mapping[str, Any]) -> dict[str, Any]:
    """A wish with its steels called dark, bright and core, as the fields have them; what has no field is left
    out."""
    want, stock = table_of(wish, "want"), table_of(wish, "stock")
    gauges, steels = table_of(stock, "thickness_mm"), table_of(wish, "steels")
    core = want.get("core")
    laid = [name for name in gauges if name != core and name in steels]
    names = dict(zip(("dark", "bright"), laid, strict=False)) | (
        {"core": core} if isinstance(core, str) and core in steels else {}
    )

    def turned(table: Mapping[str, Any]) -> dict[str, Any]:
        return {role: table[name] for role, name in names.items() if name in table}

    return {
        **wish,
        "steels": turned(steels),
        "stock": {**stock, "thickness_mm": turned(gauges), "price_kg": turned(table_of(stock, "price_kg"))},
    }


def wish_groups(wish: Mapping[str, Any], faults: Iterable[Fault], units: Units) -> tuple[Group, ...]:
    """The form of a wish, each fault at its field; the last group holds what has no field."""
    writer = Writer(units, (), FaultPlaces(faults))
    stock = table_of(wish, "stock")
    want, limits = table_of(wish, "want"), table_of(wish, "limits")
    title = writer.field(wish, "", TITLE)
    bar = Group("want", "want", "The finished bar, ground", (title, *writer.fields(want, "want", WANT[:-1])))
    steels = tuple(_steel(writer, wish, role, label) for role, label in ROLES.items())
    widths = writer.fixed("stock", WIDTHS, _text(stock.get("width_mm"), units))
    shop = Group("shop", "shop", "What the shop has", (widths, *writer.fields(limits, "limits", LIMITS)))
    groups = (
        writer.with_faults(bar, "want"),
        *steels,
        writer.with_faults(shop, "limits"),
    )
    return (*groups, Group("rest", "rest", "", (), faults=writer.faults.rest()))


def _steel(writer: Writer, wish: Mapping[str, Any], role: str, label: str) -> Group:
    stock = table_of(wish, "stock")
    gauges = table_of(stock, "thickness_mm").get(role)
    hint = "a designation or number" + ("; empty: no core" if role == "core" else "")
    grade = Spec(role, "text", "Grade", required=role != "core", hint=hint)
    plates = Spec(role, "text", "Plates in stock, how thick", hint=LIST_HINT)
    shown = [
        writer.fixed("steels", grade, _text(table_of(wish, "steels").get(role), writer.units)),
        writer.fixed("stock.thickness_mm", plates, _text(gauges, writer.units)),
        writer.named(f"stock.price_kg.{role}", f"stock.price_kg.{role}", PRICE,
                     table_of(stock, "price_kg").get(role)),
    ]  # fmt: skip
    if role == "core":
        shown.append(writer.field(table_of(wish, "want"), "want", WANT[-1]))
    return Group(f"steel-{role}", "wish-steel", label, tuple(shown), folded=role == "core" and not gauges)


def _text(value: Any, units: Units) -> str:
    """A text as it is; lengths with a semicolon between."""
    if isinstance(value, str):
        return value
    listed = list_of(value) if isinstance(value, list | tuple) else [value]
    write = WRITERS["length"]
    numbers = (isinstance(one, int | float) and not isinstance(one, bool) for one in listed)
    shown = [
        write(float(one), units) if number else str(one or "")
        for one, number in zip(listed, numbers, strict=True)
    ]
    return "; ".join(text for text in shown if text)
