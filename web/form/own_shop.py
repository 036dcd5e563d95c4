"""A smith's own fire and oils in the form: told once, kept beside the recipe."""

from collections.abc import Mapping
from typing import Any

from billet import OWN_KEYS, Fault, own_oil_faults
from web.form import fields
from web.form.proposing import MINE
from web.form.texts import Writer, rows_of, table_of
from web.form.view import Group

WRITE = "write"
OIL_KEYS = ("name", "class", "nickel_ball_s")
WRITE_IT = fields.Spec(WRITE, "flag", "Write them into the recipe too, for whoever gets the link")


def own_shop_of(draft: Mapping[str, Any]) -> Mapping[str, Any]:
    """What the draft carries of the smith's own."""
    return table_of(draft, MINE)


def own_shop_faults(mine: Mapping[str, Any]) -> list[Fault]:
    """What is wrong with one's own oils, at their fields."""
    return own_oil_faults(rows_of(mine.get("oils")), f"{MINE}.oils")


def own_shop_group(writer: Writer, draft: Mapping[str, Any]) -> Group:
    """My fire and my oils, with one free row to tell another oil in."""
    mine = own_shop_of(draft)
    specs = [spec for spec in fields.table("shop") if spec.key in OWN_KEYS]
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
