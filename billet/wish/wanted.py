"""What is wished for, as written: the bar wanted, the stock, the limits of the shop."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from billet.errors import Fault, RecipeError
from billet.recipe import declaration
from billet.recipe.faults import quoted, shown
from billet.recipe.model import Blade
from billet.recipe.reader import FaultLog, TableReader
from billet.recipe.reading import read_steels
from billet.recipe.spec import TITLE_LONGEST, Either, FieldSpec, TableSpec, number, text, whole
from billet.recipe.steel import RecipeSteel
from billet.tables.wish import wish_numbers

FORMAT = 1
THICKNESS_MM = (0.05, 100.0)
PASSED_ON = ("blade", "control", "shop")
"""Tables of a recipe that a wish may hold; every proposal has them as they are."""


@dataclass(frozen=True)
class Want:
    """The finished bar, ground: sizes in mm, `grind_mm` off each face. Layers or their mean thickness."""

    thickness_mm: float
    width_mm: float
    length_mm: float
    layers: int | None
    layer_um: float | None
    grind_mm: float
    core: str | None
    core_mm: float | None
    within: float


@dataclass(frozen=True)
class Limits:
    """The tallest pile, the longest bar and the most heats that the shop can or will do."""

    stack_mm: float
    bar_mm: float
    heats: int | None


@dataclass(frozen=True)
class Wish:
    """A checked wish. `gauges_mm` are the plates in stock of each steel, `passed_on` tables of a recipe."""

    title: str
    steels_given: Mapping[str, Any]
    steels: Mapping[str, RecipeSteel]
    want: Want
    share: Mapping[str, float]
    gauges_mm: Mapping[str, tuple[float, ...]]
    widths_mm: tuple[float, ...]
    price_kg: Mapping[str, float]
    limits: Limits
    passed_on: Mapping[str, Any]

    @property
    def pattern(self) -> tuple[str, ...]:
        """Steels that are laid in turn: all, without the core where two others are left."""
        laid = tuple(name for name in self.steels if name in self.gauges_mm)
        others = tuple(name for name in laid if name != self.want.core)
        return others if len(others) >= 2 else laid

    @property
    def rough_mm(self) -> float:
        """Thickness of the bar before it is ground."""
        return self.want.thickness_mm + 2.0 * self.want.grind_mm

    @property
    def core_mm(self) -> float:
        """Thickness of the core in the finished bar: a third where it is not told; 0 without one."""
        if self.want.core is None:
            return 0.0
        return self.want.core_mm if self.want.core_mm is not None else self.want.thickness_mm / 3.0

    @property
    def layers(self) -> float:
        """Layers that are wished for, the core being one."""
        if self.want.layers is not None:
            return float(self.want.layers)
        sides = 1000.0 * (self.want.thickness_mm - self.core_mm) / float(self.want.layer_um or 1.0)
        return sides + (1.0 if self.want.core is not None else 0.0)


WANT = TableSpec(
    "want",
    "the finished bar, ground",
    (
        number("thickness_mm", "thickness", "finished thickness", (1.0, 60.0), "mm", required=True),
        number("width_mm", "width", "finished width", (5.0, 200.0), "mm", required=True),
        number("length_mm", "length", "finished length", (20.0, 2000.0), "mm", required=True),
        whole("layers", "number of layers", "layers to the eye", (2, 5000)),
        number("layer_um", "thickness of a layer", "mean thickness of a layer", (2.0, 10000.0), "um"),
        number("grind_mm", "grinding", "ground off each face", (0.0, 5.0), "mm", default=0.3),
        FieldSpec("core", "steel", "core", "steel of a plain core"),
        number("core_mm", "thickness of the core", "finished thickness of the core", (0.2, 50.0), "mm"),
        number("within", "how near", "share by which the layers may be off", (0.01, 0.5), default=0.1),
    ),
    Want,
    either=Either((("layers",), ("layer_um",))),
    rule=lambda want: (
        None
        if want.core_mm is None or (want.core is not None and want.core_mm < want.thickness_mm)
        else ("core_mm", "a core has a steel (core) and is thinner than the bar")
    ),
)
LIMITS = TableSpec(
    "limits",
    "what the shop can do",
    (
        number(
            "stack_mm", "tallest pile", "tallest pile that can be welded", (5.0, 400.0), "mm", required=True
        ),
        number(
            "bar_mm", "longest bar", "longest bar that can be heated", (50.0, 5000.0), "mm", required=True
        ),
        whole("heats", "heats", "most heats, welds and draws together", (1, 200)),
    ),
    Limits,
)
_TITLE = text("title", "title", "title of the proposals", TITLE_LONGEST, default="Bar wanted")
_FORMAT = FieldSpec("format", "whole", "format", "format of the wish", bounds=(FORMAT, FORMAT), required=True)
_GAUGE = number("thickness_mm", "thickness of the plates", "gauges in stock", THICKNESS_MM, "mm")
_WIDTH = number("width_mm", "width of the plates", "widths in stock", (5.0, 500.0), "mm")
_PRICE = number("price_kg", "price of a kilogram", "price of a kilogram", (0.0, 1e6))
_SHARE = number("share", "share", "share of the mass", (0.02, 0.98))


def read_wish(mapping: Any) -> Wish:
    """The wish that a mapping says. Raises RecipeError with every fault found."""
    log = FaultLog()
    root = TableReader(log, mapping, "", "")
    log.faults.raise_if_any()
    root.read(_FORMAT)
    title = root.read(_TITLE)
    root.steels = steels = read_steels(root)
    want = _table(root, WANT)
    limits = _table(root, LIMITS)
    gauges, widths, prices = _stock(root)
    share = _by_steel(root, "share", _SHARE)
    blade = _passed_on(root)
    root.end(["format", "title", "steels", "want", "stock", "limits", "share", *PASSED_ON])
    log.faults.raise_if_any()
    wish = Wish(
        title,
        dict(root.table["steels"]),
        {name: steel for name, steel in steels.items() if steel is not None},
        want,
        share,
        gauges,
        widths,
        prices,
        limits,
        {key: root.table[key] for key in PASSED_ON if key in root.table},
    )
    _check(wish, blade)
    return wish


def _passed_on(root: TableReader) -> Blade | None:
    """Read the tables that every proposal has, so that what is wrong in them is told; gives the blade."""
    read = {
        spec.key: root.child(spec.key, root.table[spec.key], f"{spec.key.capitalize()}: ").made(spec)
        for spec in declaration.FLAT
        if spec.key in PASSED_ON and spec.key in root.table
    }
    blade: Blade | None = read.get("blade")
    return blade


def _table(root: TableReader, spec: TableSpec) -> Any:
    if spec.key not in root.table:
        root.fault(spec.key, f"[{spec.key}] is missing: {spec.help}")
        return None
    return root.child(spec.key, root.table[spec.key], f"{spec.key.capitalize()}: ").made(spec)


def _stock(root: TableReader) -> tuple[dict[str, tuple[float, ...]], tuple[float, ...], dict[str, float]]:
    if "stock" not in root.table:
        root.fault("stock", "[stock] is missing: thickness_mm of the plates of each steel, and width_mm")
        return {}, (), {}
    stock = root.child("stock", root.table["stock"], "Stock: ")
    stock.end(["thickness_mm", "width_mm", "price_kg"])
    numbers = wish_numbers("search")
    gauges: dict[str, tuple[float, ...]] = {}
    table = stock.child("thickness_mm", stock.table.get("thickness_mm", {}))
    table.end(list(root.steels))
    for name in root.steels:
        if name in table.table:
            gauges[name] = _numbers(table, name, _GAUGE, int(numbers["most_gauges"]))
    if not gauges:
        table.fault("", "name the thickness of the plates in stock of each steel that is laid")
    widths = _numbers(stock, "width_mm", _WIDTH, int(numbers["most_widths"]))
    return gauges, widths, _by_steel(stock, "price_kg", _PRICE)


def _numbers(table: TableReader, key: str, field: FieldSpec, most: int) -> tuple[float, ...]:
    """One number or a list of them, rising and each once."""
    value = table.table.get(key)
    listed = list(value) if isinstance(value, list | tuple) else [value]
    if value is None or not 1 <= len(listed) <= most:
        table.fault(key, f"{field.noun} must be one number or 1 to {most} of them, got {shown(value)}")
        return ()
    found = [table.number(field, one, key) for one in listed]
    return tuple(sorted({one for one in found if one is not None}))


def _by_steel(root: TableReader, key: str, field: FieldSpec) -> dict[str, float]:
    if key not in root.table:
        return {}
    table = root.child(key, root.table[key])
    table.end(list(root.steels))
    found = {n: table.number(field, v, n) for n, v in table.table.items() if n in root.steels}
    return {name: value for name, value in found.items() if value is not None}


def _check(wish: Wish, blade: Blade | None) -> None:
    """What must hold between the tables. Raises RecipeError."""
    faults, where = [], "stock.thickness_mm"
    if len(wish.pattern) < 2:
        faults.append(Fault(where, "two steels at least are laid in turn, each with plates in stock"))
    core = wish.want.core
    if core is not None and core not in wish.gauges_mm:
        faults.append(Fault(where, f"there are no plates in stock for the core, {quoted(core)}"))
    if blade is not None and blade.thickness_mm > wish.want.thickness_mm:
        faults.append(
            Fault("blade.thickness_mm", "the blade is thicker than the bar wanted (want.thickness_mm)")
        )
    total = sum(wish.share.values())
    if total > 1.0 + 1e-9:
        faults.append(Fault("share", f"the shares of the steels come to {total:g}, over 1"))
    if faults:
        raise RecipeError(faults)
