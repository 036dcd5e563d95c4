"""What lies in a stack or is laid in a restack: a plate, a bar made first, or a course of such bars."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from web.form import fields
from web.form.fields import Spec
from web.form.texts import Writer, list_of
from web.form.view import Field

LAID = Spec("laid", "hidden", "")


def laid_kind(item: Mapping[str, Any]) -> str:
    """Which table an item is of: "plates", "bar" or "beside"."""
    return next((kind for kind in ("beside", "bar") if kind in item), "plates")


def laid_fields(writer: Writer, where: str, item: Mapping[str, Any]) -> tuple[Field, ...]:
    """The fields of an item; a course has one more, for another bar beside it."""
    kind = laid_kind(item)
    if kind == "plates":
        return writer.fields(item, where, fields.table("plates"))
    if kind == "bar":
        return (writer.fixed(where, LAID, "bar"), *writer.fields(item, where, fields.table("bar")))
    names = [*list_of(item["beside"]), None]
    spec = fields.one("beside", "beside", required=False)
    places = (f"{where}.beside[{index}]" for index in range(len(names)))
    beside = (
        writer.named(place, place, replace(spec, label=f"Bar {index + 1} from the left"), name)
        for index, (place, name) in enumerate(zip(places, names, strict=True))
    )
    return (writer.fixed(where, LAID, "beside"), *beside)


def laid_heading(item: Mapping[str, Any], plate: str) -> str:
    """What stands over an item; `plate` where it is one."""
    kind = laid_kind(item)
    return plate if kind == "plates" else fields.heading(kind)
