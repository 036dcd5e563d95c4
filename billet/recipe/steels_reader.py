"""Reads [steels]: a grade of the library, an analysis of one's own, or one laid over a grade."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from billet.composition import ELEMENTS, Composition
from billet.errors import OutOfDomain, SteelError
from billet.formulas.density import density_class
from billet.recipe import limits
from billet.recipe.faults import nearest, quoted, shown
from billet.recipe.model import RecipeSteel, SteelRole
from billet.recipe.reader import TableReader, is_one_line, shortest
from billet.tables.reading import read_toml
from billet.tables.steels import Steel, find_steel

IRON = Composition({})


@dataclass(frozen=True)
class _Origin:
    grade: Steel | None
    like: str | None
    designation: str


def read_steels(root: TableReader) -> dict[str, RecipeSteel]:
    """Every name of [steels] in the recipe's order; a wrong entry gets a stand-in and a fault."""
    table = root.child("steels", "Steels: ")
    if table.whole and not limits.STEELS[0] <= len(table.table) <= limits.STEELS[1]:
        low, high = limits.STEELS
        table.fault("", f"name {low} to {high} steels, got {len(table.table)}")
        return {}
    found: dict[str, RecipeSteel] = {}
    for name, value in table.table.items():
        if not isinstance(name, str) or not name.strip() or not is_one_line(name):
            table.fault(str(shown(name)), "a name must be printable text and not empty")
        elif len(name) > limits.NAME_LONGEST:
            table.fault(name, f"a name must not be longer than {limits.NAME_LONGEST} characters")
        else:
            found[name] = _read_steel(table, name, value)
    return found


def _read_steel(table: TableReader, name: str, value: Any) -> RecipeSteel:
    if isinstance(value, Mapping):
        words = f"Steel {quoted(name)}: "
        return _read_analysis(TableReader(table.ledger, value, table.place(name), words), table, name)
    table.read.add(name)
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        table.fault(name, f"a designation in quotes belongs here, or a table; got {shown(value)}")
    elif not isinstance(value, str):
        table.fault(name, f"a designation belongs here: put it in quotes, got the number {shown(value)}")
    else:
        text = table.checked_text(name, value, limits.NAME_LONGEST)
        table.out[name] = text
        grade = _grade(table, name, text) if text else None
        origin = _Origin(grade, None, grade.designation if grade else text)
        return _steel(name, origin, None, None, None)
    return _steel(name, _Origin(None, None, ""), None, None, None)


def _read_analysis(part: TableReader, table: TableReader, name: str) -> RecipeSteel:
    table.read.add(name)
    table.out[name] = part.out
    like = part.maybe_text("like", limits.NAME_LONGEST)
    own_name = part.maybe_text("name", limits.NAME_LONGEST)
    grade = _grade(part, "like", like) if like else None
    if part.has("like") and part.has("name"):
        part.fault("name", "give like, a grade of the library, or name, not both")
    elif not part.has("like") and not part.has("name"):
        part.fault("", "give like, a grade of the library, or name and wt")
    melt = part.maybe_text("melt", limits.NAME_LONGEST)
    wt = _read_wt(part) if part.has("wt") else None
    part.read.add("wt")
    if wt is None and part.has("name"):
        part.fault("wt", "wt is missing: a steel that is no grade of the library needs its analysis")
    if wt is not None and part.has("name") and "C" not in wt:
        part.fault("wt.C", "wt must give C; write C = 0.0 where there is none")
    harden_c = _read_harden(part) if part.has("harden_c") else None
    part.read.add("harden_c")
    role: SteelRole | None = "cladding" if part.has("role") and part.choice("role", ("cladding",)) else None
    part.read.add("role")
    part.end()
    designation = grade.designation if grade else own_name or like or ""
    steel = _steel(name, _Origin(grade, like, designation), wt, melt, harden_c, role)
    if steel.composition is IRON and wt and not part.ledger.faults:
        total = sum({**(grade.nominal.wt if grade else {}), **wt}.values())
        part.fault("wt", f"the elements must not add up to more than 100 wt%, got {total:g}")
    return steel


def _grade(part: TableReader, key: str, designation: str) -> Steel | None:
    try:
        return find_steel(designation)
    except SteelError as error:
        part.fault(key, str(error))
        return None


def _read_wt(part: TableReader) -> dict[str, float]:
    inner = part.child("wt", part.words)
    known = {element.lower(): element for element in ELEMENTS}
    wt: dict[str, float] = {}
    for element in inner.table:
        inner.read.add(element)
        if element in ELEMENTS:
            high = limits.STEEL_CARBON_WT if element == "C" else limits.ELEMENT_WT[1]
            wt[element] = inner.number(element, (limits.ELEMENT_WT[0], high), "wt%")
        elif element == "Fe":
            inner.fault("Fe", "iron is the rest and is not given")
        else:
            text = element if isinstance(element, str) else shown(element)
            inner.fault(text, f"no element is written {quoted(text)}{nearest(text, known.values())}")
    if inner.whole and not inner.table:
        inner.fault("", "wt must give at least one element")
    return wt


def _read_harden(part: TableReader) -> tuple[float, float]:
    low, high = limits.HARDEN_C
    value = part.take("harden_c")
    if not isinstance(value, list | tuple) or len(value) != 2:
        part.fault("harden_c", f"harden_c must be two temperatures, [low, high]; got {shown(value)}")
        return limits.HARDEN_C
    ends = [part.checked_number("harden_c", v, (low, high), "C") for v in value]
    if not part.ledger.faults and ends[0] >= ends[1]:
        part.fault("harden_c", f"harden_c must rise from low to high, got {ends[0]:g} to {ends[1]:g}")
    part.out["harden_c"] = [shortest(end) for end in ends]
    return ends[0], ends[1]


def _steel(
    name: str,
    origin: _Origin,
    wt: Mapping[str, float] | None,
    melt: str | None,
    harden_c: tuple[float, float] | None,
    role: SteelRole | None = None,
) -> RecipeSteel:
    base = origin.grade.nominal if origin.grade else IRON
    composition = base if wt is None else _overlaid(base, wt)
    density = origin.grade.density_g_cm3 if origin.grade else _density_g_cm3(composition)
    return RecipeSteel(
        name=name,
        grade=origin.grade,
        like=origin.like,
        designation=origin.designation,
        composition=composition,
        analysis="nominal" if wt is None else "given",
        melt=melt,
        harden_c=harden_c,
        density_g_cm3=density,
        role=role,
    )


def _overlaid(base: Composition, wt: Mapping[str, float]) -> Composition:
    try:
        return Composition({**base.wt, **wt})
    except OutOfDomain:
        return IRON


def _density_g_cm3(composition: Composition) -> float:
    return float(read_toml("densities.toml")[density_class(composition)]["g_cm3"])
