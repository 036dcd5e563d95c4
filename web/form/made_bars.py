"""The part of the form that tells a bar which is made first: as the bar itself, under a name of its own."""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from web.form import fields
from web.form.fields import Spec
from web.form.stack import stack_group
from web.form.steps import inserts, step_group
from web.form.texts import Writer, rows_of, table_of
from web.form.view import BarForm, Button, Group

WAS = Spec("was", "hidden", "")


def bar_form(writer: Writer, index: int, name: str, told: Any, steels: list[tuple[str, Any]]) -> BarForm:
    """The name, the stack and the steps of a bar made first."""
    row, place = f"bars[{index}]", f"bars.{name}"
    bar: Mapping[str, Any] = told if isinstance(told, Mapping) else {}
    inside = replace(writer, form_at=f"{row}.", where_at=f"{place}.")
    steps = rows_of(bar.get("steps"))
    groups = [step_group(inside, at, step, last=at == len(steps) - 1) for at, step in enumerate(steps)]
    stack = stack_group(inside, table_of(bar, "stack"), steels)
    called = (writer.fixed(row, fields.BAR_NAME, name), writer.fixed(row, WAS, name))
    remove = (Button(f"remove_bar:{index}", "Take this bar out"),)
    general = Group(f"bar-{index + 1}", "bar", name or f"Bar {index + 1}", called, buttons=remove)
    return BarForm(
        key=f"bar-{index + 1}",
        general=writer.with_faults(writer.with_faults(general, place), row),
        stack=_in_bar(stack, index),
        steps=tuple(_in_bar(group, index) for group in groups),
        first_inserts=_pressed_in(inserts(0), index),
    )


def _in_bar(group: Group, index: int) -> Group:
    """A group whose keys and buttons say that they are of this bar."""
    return replace(
        group,
        key=f"bar-{index + 1}-{group.key}",
        groups=tuple(_in_bar(part, index) for part in group.groups),
        buttons=_pressed_in(group.buttons, index),
        inserts=_pressed_in(group.inserts, index),
    )


def _pressed_in(buttons: tuple[Button, ...], index: int) -> tuple[Button, ...]:
    return tuple(replace(button, action=f"b{index}/{button.action}") for button in buttons)
