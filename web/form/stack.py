"""The part of the form that tells the plates: an order that repeats, or every plate."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from web.form import fields
from web.form.fields import Spec
from web.form.laid import laid_fields, laid_heading, laid_kind
from web.form.texts import Writer, list_of, rows_of, table_of
from web.form.view import Button, Field, Group

_REPEAT = Button("use_pattern", "Repeat an order instead")
LAYOUT = Spec("layout", "hidden", "")


def stack_group(writer: Writer, stack: Mapping[str, Any], steels: list[tuple[str, Any]]) -> Group:
    """Width, length, and either the order with its count, or the plates."""
    sizes = writer.fields(stack, "stack", fields.table("stack"))
    if "plates" in stack:
        layout = writer.fixed("stack", LAYOUT, "plates")
        plates = rows_of(stack["plates"])
        groups = tuple(_plate(writer, index, plate) for index, plate in enumerate(plates))
        bars = (
            Button("lay_bar", "Lay a bar made first on top"),
            Button("lay_course", "Lay bars side by side on top"),
        )
        buttons = (
            Button("add_plate", "Add a plate on top"),
            *(bars if writer.bars else ()),
            *(() if any(laid_kind(plate) != "plates" for plate in plates) else (_REPEAT,)),
        )
        told = (*sizes, layout)
        group = Group("stack", "stack", fields.heading("stack"), told, groups=groups, buttons=buttons)
        return writer.with_faults(group, "stack")
    layout = writer.fixed("stack", LAYOUT, "pattern")
    count = writer.field(stack, "stack", fields.one("stack", "count", required=True))
    in_order = fields.one("stack", "pattern", required=True)
    order = tuple(
        writer.named(f"stack.pattern[{i}]", f"stack.pattern[{i}]", in_order, name)
        for i, name in enumerate(list_of(stack.get("pattern")))
    )
    pattern = Group(
        "pattern", "pattern", "Order, from the bottom up", order,
        buttons=(Button("add_pattern", "One more in the order"), Button("remove_pattern", "One less")),
    )  # fmt: skip
    over = fields.one("stack", "thickness_mm").label
    thickness = Group("thickness", "thickness", over, _thickness(writer, stack, steels))
    pattern = writer.with_faults(pattern, "stack.pattern")
    thickness = writer.with_faults(thickness, "stack.thickness_mm")
    group = Group(
        "stack", "stack", fields.heading("stack"), (*sizes, layout, count),
        groups=(pattern, thickness),
        buttons=(Button("use_plates", "Tell every plate instead"),),
    )  # fmt: skip
    return writer.with_faults(group, "stack")


def _thickness(writer: Writer, stack: Mapping[str, Any], steels: list[tuple[str, Any]]) -> tuple[Field, ...]:
    """One field for each steel that lies in the order, or that has a thickness."""
    given, order = table_of(stack, "thickness_mm"), list_of(stack.get("pattern"))
    plate = fields.one("plates", "thickness_mm")
    return tuple(
        writer.named(
            f"stack.thickness_mm[{index}]",
            f"stack.thickness_mm.{name}",
            replace(plate, label=name or f"Steel {index + 1}"),
            given.get(name),
        )
        for index, (name, _) in enumerate(steels)
        if name in order or name in given
    )


def _plate(writer: Writer, index: int, plate: Mapping[str, Any]) -> Group:
    where = f"stack.plates[{index}]"
    group = Group(
        key=f"plate-{index + 1}",
        kind="plate",
        heading=laid_heading(plate, f"Plate {index + 1}"),
        fields=laid_fields(writer, where, plate),
        buttons=(
            Button(f"plate_up:{index}", "Up"),
            Button(f"plate_down:{index}", "Down"),
            Button(f"remove_plate:{index}", "Take out"),
        ),
    )
    return writer.with_faults(group, where)
