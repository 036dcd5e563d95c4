"""A smith's own fire and oils in the form: told once, kept beside the recipe."""

from collections.abc import Mapping
from typing import Any

from billet import OWN_KEYS, Fault, own_oil_faults
from web.form import fields
from web.form.proposing import MINE, THEIRS
from web.form.texts import Writer, rows_of, table_of
from web.form.view import Button, Group, Theirs

WRITE = "write"
OIL_KEYS = ("name", "class", "nickel_ball_s")
WRITE_IT = fields.Spec(WRITE, "flag", "Write them into the recipe too, for whoever gets the link")


def own_shop_of(draft: Mapping[str, Any]) -> Mapping[str, Any]:
    """What the draft carries of the smith's own and counts; nothing where the recipe's is to count."""
    return {} if draft.get(THEIRS) else table_of(draft, MINE)


def fire_is_mine(draft: Mapping[str, Any]) -> bool:
    """Whether the fire that counts is the smith's own."""
    mine = own_shop_of(draft)
    return bool(mine.get("fire") or mine.get("half_width_k"))


def their_shop(draft: Mapping[str, Any]) -> Theirs | None:
    """The fire and oils that the recipe tells, with the button that lets them count, or one's own."""
    shop, control, maker = table_of(draft, "shop"), table_of(draft, "control"), table_of(draft, "sheet")
    told = [_fire_words(control, "control", "method") or _fire_words(shop, "shop", "fire")]
    told += [str(oil.get("name") or oil.get("class") or "") for oil in rows_of(shop.get("oils"))]
    told = [words for words in told if words]
    if not told:
        return None
    asked_for = bool(draft.get(THEIRS))
    count = asked_for or not table_of(draft, MINE)
    theirs, mine = Button("use_theirs", "Use theirs"), Button("use_mine", "Use mine")
    button = None if not table_of(draft, MINE) else mine if count else theirs
    return Theirs(str(maker.get("maker") or ""), ", ".join(told), count, asked_for, button)


def _fire_words(table: Mapping[str, Any], name: str, key: str) -> str:
    """The fire of a table as its choice is called, or how closely it is held."""
    if (held := table.get(key)) is not None:
        return next((c.label for c in fields.one(name, key).choices if c.value == held), str(held))
    half = table.get("half_width_k")
    return f"held to ± {half} K" if isinstance(half, int | float) else ""


def own_shop_faults(mine: Mapping[str, Any]) -> list[Fault]:
    """What is wrong with one's own oils, at their fields."""
    return own_oil_faults(rows_of(mine.get("oils")), f"{MINE}.oils")


def own_shop_group(writer: Writer, draft: Mapping[str, Any]) -> Group:
    """My fire and my oils, with one free row to tell another oil in."""
    mine = table_of(draft, MINE)
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
