"""A smith's own fire and oils: told once, kept beside the recipe, and counted before what it says."""

from collections.abc import Mapping
from typing import Any

from billet import Fault, oil_by_name
from web.form import fields
from web.form.proposing import MINE
from web.form.texts import Writer, rows_of, table_of
from web.form.view import Group

Draft = dict[str, Any]
FIRE_KEYS = ("fire", "half_width_k")
KEYS = (*FIRE_KEYS, "press", "oils")
WRITE = "write"
OIL_KEYS = ("name", "class", "nickel_ball_s")
WRITE_IT = fields.Spec(WRITE, "flag", "Write them into the recipe too, for whoever gets the link")


def with_own_shop(recipe: Mapping[str, Any], mine: Mapping[str, Any]) -> Draft:
    """The recipe answered for one's own fire and oils: what one has counts before what it says."""
    own = {key: mine[key] for key in KEYS if mine.get(key)}
    if not own:
        return dict(recipe)
    answered, shop = dict(recipe), dict(table_of(recipe, "shop"))
    if any(key in own for key in FIRE_KEYS):
        answered.pop("control", None)
        shop = {key: value for key, value in shop.items() if key not in FIRE_KEYS}
    answered["shop"] = {**shop, **own}
    return answered


def own_shop_of(draft: Mapping[str, Any]) -> Mapping[str, Any]:
    """What the draft carries of the smith's own."""
    return table_of(draft, MINE)


def read_oils(rows: list[Draft]) -> list[Draft]:
    """The oils that were told, each with the class that its name stands for where it tells no other."""
    oils: list[Draft] = []
    for row in rows:
        named = oil_by_name(str(row.get("name", "")))
        if named is not None and named.why_never is None and not row.keys() & {"class", "nickel_ball_s"}:
            row = {**row, "class": named.medium}
        if row:
            oils.append({"name": str(row.get("class", "")), **row})
    return oils


def own_shop_faults(mine: Mapping[str, Any]) -> list[Fault]:
    """What is wrong with one's own oils: what is never quenched in, and what tells too little."""
    faults = []
    for index, row in enumerate(rows_of(mine.get("oils"))):
        place, name = f"{MINE}.oils[{index}].name", str(row.get("name", ""))
        named = oil_by_name(name)
        if named is not None and named.why_never is not None:
            faults.append(Fault(place, f"never quench in {name}: {named.why_never}"))
        elif not row.keys() & {"class", "nickel_ball_s"}:
            faults.append(Fault(place, "tell the class of this oil, or the nickel-ball seconds of its maker"))
    return faults


def own_shop_group(writer: Writer, draft: Mapping[str, Any]) -> Group:
    """My fire and my oils, with one free row to tell another oil in."""
    mine = own_shop_of(draft)
    specs = [spec for spec in fields.table("shop") if spec.key in KEYS]
    shown = (*writer.fields(mine, MINE, specs), writer.field(mine, MINE, WRITE_IT))
    rows = [*rows_of(mine.get("oils")), {}]
    groups = tuple(_oil(writer, index, row) for index, row in enumerate(rows))
    group = Group(MINE, MINE, "My fire and my oil", shown, groups=groups, folded=not mine)
    return writer.with_faults(group, MINE)


def _oil(writer: Writer, index: int, row: Mapping[str, Any]) -> Group:
    where = f"{MINE}.oils[{index}]"
    specs = (fields.one("oils", key, required=False) for key in OIL_KEYS)
    shown = tuple(
        writer.named(f"{where}.{spec.key}", f"{where}.{spec.key}", spec, row.get(spec.key)) for spec in specs
    )
    return Group(f"my-oil-{index + 1}", "oil", f"Oil {index + 1}", shown)
