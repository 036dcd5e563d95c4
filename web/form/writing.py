"""The mapping of a recipe, complete or not, to the form that shows it, each fault at its field."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from billet import Fault
from web.form import fields
from web.form.fault_places import FaultPlaces
from web.form.fields import Spec
from web.form.made_bars import bar_form
from web.form.own_shop import fire_is_mine, own_shop_group, their_shop
from web.form.stack import stack_group
from web.form.steps import inserts, step_group
from web.form.texts import Writer, named_rows, rows_of, table_of
from web.form.view import Button, FormView, Group
from web.http.links import Units


@dataclass(frozen=True)
class Known:
    """What the form offers from the library: designations of steels."""

    steels: tuple[str, ...]


def write_form(draft: Mapping[str, Any], faults: Iterable[Fault], units: Units, known: Known) -> FormView:
    """The form of a draft. Whatever stands in the draft is shown as it is, also what is wrong."""
    rows = named_rows(draft.get("steels"))
    made = named_rows(draft.get("bars"))
    names, bars = (tuple(name for name, _ in told) for told in (rows, made))
    writer = Writer(units, names, FaultPlaces(faults), bars)
    title = writer.field(draft, "", fields.one("", "title"))
    general = Group("general", "general", fields.heading(""), (title,))
    steels = tuple(_steel(writer, index, name, value) for index, (name, value) in enumerate(rows))
    stack = stack_group(writer, table_of(draft, "stack"), rows)
    forge = _flat(writer, draft, "forge", folded=True)
    steps = rows_of(draft.get("steps"))
    step_groups = tuple(
        step_group(writer, index, step, last=index == len(steps) - 1) for index, step in enumerate(steps)
    )
    return FormView(
        general=writer.with_faults(general, "title"),
        steels=steels,
        add_steel=Button("add_steel", "Add a steel"),
        stack=stack,
        forge=forge,
        steps=step_groups,
        bars=tuple(bar_form(writer, index, name, told, rows) for index, (name, told) in enumerate(made)),
        add_bar=Button("add_bar", "Make a bar first, to be laid in this one"),
        mine=own_shop_group(writer, draft),
        theirs=their_shop(draft),
        fire_is_mine=fire_is_mine(draft),
        first_inserts=inserts(0),
        blade=_added(writer, draft, "blade", "Tell what blade it becomes", "No blade yet"),
        control=_flat(writer, draft, "control"),
        shop=_shop(writer, draft),
        sheet=_flat(writer, draft, "sheet"),
        plan=Button("plan", "Plan this bar"),
        check=Button("check", "Check"),
        known_steels=known.steels,
        faults=writer.faults.rest(),
    )


def _flat(writer: Writer, draft: Mapping[str, Any], key: str, folded: bool = False) -> Group:
    table = table_of(draft, key)
    shown = writer.fields(table, key, fields.table(key))
    group = Group(key, key, fields.heading(key), shown, folded=folded and not table)
    return writer.with_faults(group, key)


def _added(writer: Writer, draft: Mapping[str, Any], key: str, add: str, remove: str) -> Group:
    """A table that a button brings into the form and another takes out."""
    if key not in draft:
        return Group(key, key, fields.heading(key), (), buttons=(Button(f"add_{key}", add),))
    return replace(_flat(writer, draft, key), buttons=(Button(f"remove_{key}", remove),))


def _shop(writer: Writer, draft: Mapping[str, Any]) -> Group:
    oils = rows_of(table_of(draft, "shop").get("oils"))
    shown = tuple(_oil(writer, index, oil) for index, oil in enumerate(oils))
    group = _added(writer, draft, "shop", "Tell what your shop has", "Leave the shop out")
    if "shop" not in draft:
        return group
    return replace(group, groups=shown, buttons=(Button("add_oil", "Add an oil"), *group.buttons))


def _oil(writer: Writer, index: int, oil: Mapping[str, Any]) -> Group:
    where = f"shop.oils[{index}]"
    shown = writer.fields(oil, where, fields.table("oils"))
    heading = f"{fields.heading('oils')} {index + 1}"
    button = Button(f"remove_oil:{index}", "Take this oil out")
    return writer.with_faults(Group(f"oil-{index + 1}", "oil", heading, shown, buttons=(button,)), where)


STEEL_BUTTONS = {
    "library": "It is a grade of the library",
    "like": "It is like a grade, with its own analysis",
    "own": "It is no grade of the library",
}


def _steel(writer: Writer, index: int, name: str, value: Any) -> Group:
    row, where = f"steels[{index}]", f"steels.{name}"
    form = fields.steel_form(value)
    table = value if isinstance(value, Mapping) else {"grade": value}
    head = (
        writer.fixed(row, fields.STEEL_NAME, name),
        writer.fixed(row, fields.STEEL_WAS, name),
        writer.fixed(row, fields.STEEL_FORM, form),
        writer.fixed(row, fields.STEEL_AUTO, "on" if name and value == name else ""),
    )
    specs = fields.steel_specs(form)
    places = {spec.key: where if spec.key == "grade" else f"{where}.{spec.key}" for spec in specs}
    told = tuple(writer.field(table, row, spec, where=places[spec.key]) for spec in specs)
    range_c = fields.one("steels", "harden_c")
    harden = () if form == "library" else writer.pair(table, row, range_c, f"{where}.harden_c")
    switches = tuple(
        Button(f"steel_{other}:{index}", words) for other, words in STEEL_BUTTONS.items() if other != form
    )
    group = Group(
        key=f"steel-{index + 1}",
        kind="steel",
        heading=name or f"Steel {index + 1}",
        fields=(*head, *told, *harden),
        groups=() if form == "library" else _analysis(writer, table, row, where),
        buttons=(*switches, Button(f"remove_steel:{index}", "Take this steel out")),
    )
    return writer.with_faults(writer.with_faults(group, where), row)


def _analysis(writer: Writer, steel: Mapping[str, Any], row: str, where: str) -> tuple[Group, ...]:
    wt = table_of(steel, "wt")

    def group(kind: str, heading: str, elements: Iterable[Spec]) -> Group:
        shown = tuple(writer.field(wt, f"{row}.wt", spec, f"{where}.wt.{spec.key}") for spec in elements)
        return Group(f"{row}-{kind}", kind, heading, shown)

    usual, seldom = fields.elements()
    rare = group("analysis-rare", "Other elements", seldom)
    folded = not any(spec.key in wt for spec in seldom)
    common = group("analysis", fields.one("steels", "wt").label, usual)
    return writer.with_faults(common, f"{where}.wt"), replace(rare, folded=folded)
