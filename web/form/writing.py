"""The mapping of a recipe, complete or not, to the form that shows it, each fault at its field."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from billet import Fault
from web.form import fields
from web.form.fault_places import FaultPlaces
from web.form.fields import Spec
from web.form.lengths import Units
from web.form.stack import stack_group
from web.form.steps import step_group
from web.form.texts import Writer, rows_of, steel_rows, table_of
from web.form.view import Button, Choice, FormView, Group


@dataclass(frozen=True)
class Known:
    """What the form offers from the library: ways to judge heat, designations of steels."""

    methods: tuple[Choice, ...]
    steels: tuple[str, ...]


def write_form(draft: Mapping[str, Any], faults: Iterable[Fault], units: Units, known: Known) -> FormView:
    """The form of a draft. Whatever stands in the draft is shown as it is, also what is wrong."""
    rows = steel_rows(draft.get("steels"))
    writer = Writer(units, tuple(name for name, _ in rows), FaultPlaces(faults))
    general = Group("general", "general", "The bar", (writer.field(draft, "", fields.TITLE),))
    steels = tuple(_steel(writer, index, name, value) for index, (name, value) in enumerate(rows))
    stack = stack_group(writer, table_of(draft, "stack"), rows)
    forge = _flat(writer, draft, "forge", "Scale", fields.FORGE, folded=True)
    steps = rows_of(draft.get("steps"))
    step_groups = tuple(
        step_group(writer, index, step, last=index == len(steps) - 1) for index, step in enumerate(steps)
    )
    method = replace(fields.CONTROL_METHOD, choices=known.methods)
    control = _flat(writer, draft, "control", "Judging the heat", (method, fields.CONTROL_HALF_WIDTH))
    sheet = _flat(writer, draft, "sheet", "For the paper", fields.SHEET)
    return FormView(
        general=writer.with_faults(general, "title"),
        steels=steels,
        add_steel=Button("add_steel", "Add a steel"),
        stack=stack,
        forge=forge,
        steps=step_groups,
        add_step=tuple(Button(f"add_step:{do}", words) for do, words in fields.STEP_WORDS.items()),
        blade=_blade(writer, draft),
        control=control,
        sheet=sheet,
        plan=Button("plan", "Plan this bar"),
        check=Button("check", "Check"),
        known_steels=known.steels,
        faults=writer.faults.rest(),
    )


def _flat(
    writer: Writer, draft: Mapping[str, Any], key: str, heading: str, specs: Iterable[Spec],
    folded: bool = False,
) -> Group:  # fmt: skip
    table = table_of(draft, key)
    shown = tuple(writer.field(table, key, spec) for spec in specs)
    return writer.with_faults(Group(key, key, heading, shown, folded=folded and not table), key)


def _blade(writer: Writer, draft: Mapping[str, Any]) -> Group:
    if "blade" not in draft:
        button = Button("add_blade", "Tell what blade it becomes")
        return Group("blade", "blade", "The blade", (), buttons=(button,))
    group = _flat(writer, draft, "blade", "The blade", fields.BLADE)
    return replace(group, buttons=(Button("remove_blade", "No blade yet"),))


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
    )
    places = {spec.key: where if spec.key == "grade" else f"{where}.{spec.key}"
              for spec in fields.STEEL_SPECS[form]}  # fmt: skip
    told = tuple(writer.field(table, row, spec, where=places[spec.key]) for spec in fields.STEEL_SPECS[form])
    harden = () if form == "library" else writer.pair(table, row, fields.HARDEN, f"{where}.harden_c")
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

    def group(kind: str, heading: str, elements: Iterable[str]) -> Group:
        shown = tuple(
            writer.field(wt, f"{row}.wt", Spec(element, "number", element, "%"), f"{where}.wt.{element}")
            for element in elements
        )
        return Group(f"{row}-{kind}", kind, heading, shown)

    rare = group("analysis-rare", "Other elements", fields.RARE_ELEMENTS)
    folded = not any(element in wt for element in fields.RARE_ELEMENTS)
    common = group("analysis", "Analysis, percent by mass", fields.COMMON_ELEMENTS)
    return writer.with_faults(common, f"{where}.wt"), replace(rare, folded=folded)
