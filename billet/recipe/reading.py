"""A mapping in, a recipe out: the tables one after another, then what must hold between them."""

from collections.abc import Callable, Mapping
from typing import Any

from billet.composition import ELEMENTS
from billet.errors import SteelError
from billet.recipe import declaration
from billet.recipe.faults import nearest, quoted, shown
from billet.recipe.laid_bars import check_bars, printed, words_for
from billet.recipe.model import BarPlan, Recipe, SheetInfo, Step
from billet.recipe.reader import FaultLog, TableReader, is_one_line
from billet.recipe.sequence import check_sequence
from billet.recipe.spec import NAME_LONGEST, FieldSpec
from billet.recipe.steel import RecipeSteel

HIGHEST_SUM_WT = 100.0
_STEELS = FieldSpec("steels", "table", "steels", "names of your own", required=True)
_STACK = FieldSpec("stack", "table", "stack", declaration.STACK.help, required=True, inner=declaration.STACK)
_STEPS = FieldSpec("steps", "rows", "steps", "in order", bounds=declaration.STEPS_COUNT)
_BARS = FieldSpec("bars", "table", "bars", declaration.BARS_HELP)
_DO = FieldSpec("do", "text", "kind of the step", "kind of the step", required=True)
_FORMAT = FieldSpec("format", "whole", "format", "format of the recipe", required=True)


def read_recipe(mapping: Any, check: Callable[[Recipe], Recipe] | None = None) -> Recipe:
    """The recipe that a mapping says, with every default filled in; `check` is asked last.

    Raises RecipeError with up to 20 faults, each with its place and a sentence.
    """
    log = FaultLog()
    root = TableReader(log, mapping, "", "")
    log.faults.raise_if_any()
    values = _values(root)
    log.faults.raise_if_any()
    recipe = Recipe(**values, assumed=tuple(log.assumed), check=check)
    check_bars(recipe, log.faults)
    log.faults.raise_if_any()
    check_sequence(recipe, log.faults)
    log.faults.raise_if_any()
    return recipe if check is None else check(recipe)


def _values(root: TableReader) -> dict[str, Any]:
    version = root.take(_FORMAT)
    if "format" in root.table and (isinstance(version, bool) or version != declaration.FORMAT):
        known = f"this version reads format = {declaration.FORMAT}"
        root.fault("format", f"format {shown(version)} is not known; {known}")
    title = root.read(declaration.TITLE)
    root.steels = steels = read_steels(root)
    bars = _bars(root)
    stack = _flat(root, "stack") if _given(root, _STACK) else None
    values: dict[str, Any] = {"title": title, "steels": steels, "bars": bars, "stack": stack}
    forge = root.child("forge", root.table.get("forge", {}), "Forge: ").values(declaration.FORGE)
    values |= {"scale_factor": forge["scale_factor"], "steps": _steps(root)}
    for spec in (declaration.BLADE, declaration.CONTROL, declaration.SHOP, declaration.SHEET):
        values[spec.key] = _flat(root, spec.key) if spec.key in root.table else None
    values["sheet"] = values["sheet"] or SheetInfo()
    root.end(declaration.TABLES)
    return values


def _given(root: TableReader, field: FieldSpec) -> bool:
    """Whether a table is there; a fault where it is required."""
    root.take(field)
    return field.key in root.table


def _flat(root: TableReader, key: str) -> Any:
    spec = next(s for s in (declaration.STACK, *declaration.FLAT) if s.key == key)
    return root.child(key, root.table[key], f"{key.capitalize()}: ").made(spec)


def _steps(root: TableReader, bar: str | None = None) -> tuple[Step | None, ...]:
    if "steps" not in root.table:
        return ()
    listed = root.list_of(_STEPS, root.table["steps"])
    return tuple(_step(root, bar, index, table) for index, table in enumerate(listed))


def _step(root: TableReader, bar: str | None, index: int, table: Any) -> Step | None:
    do = table.get("do") if isinstance(table, Mapping) else None
    spec = declaration.STEPS.get(do) if isinstance(do, str) else None
    words = words_for(bar, f"Step {index + 1} ({do})" if spec else f"Step {index + 1}")
    part = root.child(f"steps[{index}]", table, words)
    if spec is not None:
        step: Step | None = part.made(spec, number=index + 1, do=do)
        return step
    if part.whole and _given(part, _DO):
        hint = nearest(do, declaration.STEPS) if isinstance(do, str) else ""
        part.fault("do", f"no step is called {shown(do)}{hint}")
    return None


def read_steels(root: TableReader) -> dict[str, RecipeSteel | None]:
    """Every name of [steels] in the recipe's order; None for an entry that is wrong."""
    if not _given(root, _STEELS):
        return {}
    table = root.child("steels", root.table["steels"], "Steels: ")
    low, high = declaration.STEELS
    if table.whole and not low <= len(table.table) <= high:
        table.fault("", f"name {low} to {high} steels, got {len(table.table)}")
        return {}
    found: dict[str, RecipeSteel | None] = {}
    for name in _own_names(table):
        found[name] = _steel(table, name, table.table[name])
    return found


def _own_names(table: TableReader) -> list[str]:
    """The keys of a table that may serve as names; a fault for each other."""
    found = []
    for name in table.table:
        if not isinstance(name, str) or not name.strip() or not is_one_line(name):
            table.fault(str(shown(name)), "a name must be printable text and not empty")
        elif len(name) > NAME_LONGEST:
            table.fault(name, f"a name must not be longer than {NAME_LONGEST} characters")
        else:
            found.append(name)
    return found


def _bars(root: TableReader) -> dict[str, BarPlan]:
    """Every bar that is made first. The names are known to the whole recipe from here on."""
    if _BARS.key not in root.table:
        return {}
    table = root.child(_BARS.key, root.table[_BARS.key], "Bars: ")
    low, high = declaration.BARS
    if table.whole and not low <= len(table.table) <= high:
        table.fault("", f"name {low} to {high} bars, got {len(table.table)}")
        return {}
    root.bars = table.bars = names = _own_names(table)
    for name in names:
        if name in root.steels:
            table.fault(name, f"a steel is called {quoted(name)}; the bar needs a name of its own")
    return {name: _bar(table, name, table.table[name]) for name in names}


def _bar(table: TableReader, name: str, value: Any) -> BarPlan:
    part = table.child(name, value, f"Bar {printed(name)}: ")
    stack = None
    if part.whole and _given(part, _STACK):
        stack = part.child("stack", part.table["stack"], words_for(name, "Stack")).made(declaration.STACK)
    steps = _steps(part, name)
    part.end((_STACK.key, _STEPS.key))
    return BarPlan(stack, steps)  # type: ignore[arg-type]  # with a fault nothing leaves the reading


def _steel(table: TableReader, name: str, value: Any) -> RecipeSteel | None:
    if isinstance(value, Mapping):
        return _own_analysis(table.child(name, value, f"Steel {quoted(name)}: "), name)
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        table.fault(name, f"a designation in quotes belongs here, or a table; got {shown(value)}")
    elif not isinstance(value, str):
        table.fault(name, f"a designation belongs here: put it in quotes, got the number {shown(value)}")
    else:
        text = table.text(name, "the designation", value, NAME_LONGEST)
        return _of_library(table, name, RecipeSteel(name, like=text)) if text else None
    return None


def _own_analysis(part: TableReader, name: str) -> RecipeSteel | None:
    before = len(part.log.faults.listed)
    wt = part.table.get("wt")
    if isinstance(wt, Mapping) and not _check_elements(part.child("wt", wt)):
        return None
    if "name" in part.table and "wt" not in part.table:
        part.fault("wt", "the analysis (wt) is missing: a steel that is no grade of the library needs it")
    if "name" in part.table and isinstance(wt, Mapping) and wt and "C" not in wt:
        part.fault("wt.C", "the analysis must give C; write C = 0.0 where there is none")
    values = part.values(declaration.STEEL)
    if len(part.log.faults.listed) > before:
        return None
    values["wt"] = None if values["wt"] is None else {e: v for e, v in values["wt"].items() if v is not None}
    return _of_library(part, "like", RecipeSteel(name, **values))


def _check_elements(inner: TableReader) -> bool:
    """Whether every key of an analysis is an element that may stand there; a fault for each other."""
    known = {element.lower(): element for element in ELEMENTS}
    before = len(inner.log.faults.listed)
    for element in inner.table:
        if element == "Fe":
            inner.fault("Fe", "iron is the rest and is not given")
        elif element not in ELEMENTS:
            text = element if isinstance(element, str) else shown(element)
            inner.fault(text, f"no element is written {quoted(text)}{nearest(text, known.values())}")
    if not inner.table:
        inner.fault("", "give at least one element")
    return len(inner.log.faults.listed) == before


def _of_library(part: TableReader, key: str, steel: RecipeSteel) -> RecipeSteel | None:
    """The steel, where the library knows its grade and its elements leave room for iron."""
    try:
        nominal = steel.grade.nominal.wt if steel.grade else {}
    except SteelError as error:
        part.fault(key, str(error))
        return None
    total = sum({**nominal, **(steel.wt or {})}.values())
    if total > HIGHEST_SUM_WT:
        part.fault("wt", f"the elements must not add up to more than 100 wt%, got {total:g}")
        return None
    return steel
