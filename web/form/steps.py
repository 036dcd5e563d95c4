"""The part of the form that tells one step."""

import json
from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import Any

from web.form import fields
from web.form.fields import Spec
from web.form.headlines import headline
from web.form.laid import laid_fields, laid_heading
from web.form.proposing import TOLD, proposed_in, told_of
from web.form.texts import Writer, list_of, table_of
from web.form.view import Button, Field, Group

DO = Spec("do", "hidden", "")
AS_PROPOSED = Spec(TOLD, "hidden", "")
REACH = (
    Spec("to_length", "length", "or length after"),
    Spec("times", "number", "or how many times as long"),
)
ARRANGE = Spec("arrange", "hidden", "")
WHAT = Spec("what", "hidden", "")
LAY_WORDS = {"piece": "A piece of the bar", "turned": "A piece, turned over", "plate": "A fresh plate"}


def step_group(writer: Writer, index: int, step: Mapping[str, Any], last: bool) -> Group:
    """Everything one step can say, and the buttons that move it."""
    where = f"steps[{index}]"
    do = step.get("do") if isinstance(step.get("do"), str) else ""
    told = [writer.fixed(where, DO, str(do))]
    if do in fields.step_words():
        told += _marked(writer.fields(step, where, fields.table(f"steps.{do}")), step)
    if do == "draw":
        told += _reach(writer, step, where)
    groups: list[Group] = []
    buttons = _moves(index, last)
    if proposed_in(step):
        buttons = [Button(f"accept:{index}", "Take as proposed"), *buttons]
    if do == "restack":
        more, lay, switches = _arrangement(writer, index, step)
        told += more
        groups += lay
        buttons = switches + buttons
    told.append(writer.field(step, where, fields.one("steps.weld", "note")))
    told.append(writer.fixed(where, AS_PROPOSED, written_told(told)))
    groups.append(_measured(writer, step, where))
    words = fields.step_words().get(str(do), "an unknown step")
    group = Group(
        key=f"step-{index + 1}",
        kind=f"step:{do}",
        heading=f"Step {index + 1}: {words}",
        fields=tuple(told),
        groups=tuple(groups),
        buttons=tuple(buttons),
        line=headline(step, writer.units),
        inserts=inserts(index + 1),
    )
    return writer.with_faults(group, where)


def inserts(at: int) -> tuple[Button, ...]:
    """What may be put in before the step with this index."""
    again = Button(f"again:{at}", "Cut, weld and draw again")
    return (again, *(Button(f"add_step:{do}.{at}", words) for do, words in fields.step_words().items()))


def written_told(shown: Iterable[Field]) -> str:
    """What the page filled in, as a hidden text: a field whose text is still this was never touched."""
    was = {f.name.rpartition(".")[2]: f.text for f in shown if f.proposed}
    return json.dumps(was, ensure_ascii=False) if was else ""


def _marked(shown: Iterable[Field], step: Mapping[str, Any]) -> list[Field]:
    """The fields, those with a proposal marked."""
    keys = proposed_in(step)
    return [replace(f, proposed=f.key in keys) for f in shown]


def _reach(writer: Writer, step: Mapping[str, Any], where: str) -> list[Field]:
    """The other ways to tell how far a bar is drawn; what they come to stands as the height."""
    told = told_of(step)
    length, times = REACH
    return [
        writer.field({length.key: told.get("length_mm")}, where, length),
        writer.field({times.key: told.get("times")}, where, times),
    ]


def _moves(index: int, last: bool) -> list[Button]:
    buttons = [] if index == 0 else [Button(f"move_up:{index}", "Up")]
    buttons += [] if last else [Button(f"move_down:{index}", "Down")]
    return [*buttons, Button(f"copy_step:{index}", "Copy"), Button(f"remove_step:{index}", "Take out")]


def _measured(writer: Writer, step: Mapping[str, Any], where: str) -> Group:
    measured = table_of(step, "measured")
    shown = writer.fields(measured, f"{where}.measured", fields.table("measured"))
    heading = fields.heading("measured")
    group = Group(f"{where}-measured", "measured", heading, shown, folded=not measured)
    return writer.with_faults(group, f"{where}.measured")


def _arrangement(
    writer: Writer, index: int, step: Mapping[str, Any]
) -> tuple[list[Field], list[Group], list[Button]]:
    where = f"steps[{index}]"
    if "lay" not in step:
        fixed = writer.fixed(where, ARRANGE, "order")
        order = writer.field(step, where, fields.one("steps.restack", "order", required=True))
        return [fixed, order], [], [Button(f"use_lay:{index}", "Lay piece by piece instead")]
    bars = (
        Button(f"lay_bar_piece:{index}", "Lay a bar made first"),
        Button(f"lay_course_piece:{index}", "Lay bars side by side"),
    )
    groups = [_lay(writer, index, place, item) for place, item in enumerate(list_of(step["lay"]))]
    buttons = [
        Button(f"add_piece:{index}", "Lay a piece on top"),
        Button(f"add_turned:{index}", "Lay a piece turned over"),
        Button(f"add_lay_plate:{index}", "Lay a fresh plate"),
        *(bars if writer.bars else ()),
        Button(f"use_order:{index}", "All pieces in one order instead"),
    ]
    return [writer.fixed(where, ARRANGE, "lay")], groups, buttons


def _lay_words(what: str) -> str:
    return LAY_WORDS.get(what, what or "something unknown")


def _lay(writer: Writer, index: int, place: int, item: Any) -> Group:
    where = f"steps[{index}].lay[{place}]"
    what = "plate" if isinstance(item, Mapping) else item if isinstance(item, str) else ""
    told = [writer.fixed(where, WHAT, what)]
    if isinstance(item, Mapping):
        told += laid_fields(writer, where, item)
    group = Group(
        key=f"step-{index + 1}-lay-{place + 1}",
        kind="lay",
        heading=laid_heading(item, LAY_WORDS["plate"]) if isinstance(item, Mapping) else _lay_words(what),
        fields=tuple(told),
        buttons=(Button(f"remove_lay:{index}.{place}", "Take out"),),
    )
    return writer.with_faults(group, where)
