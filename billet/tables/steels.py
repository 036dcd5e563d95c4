"""The library of steels: analyses and hardening rows, each with its source and how it was seen.

`find_steel` opens the list of names and the two files of one family; `steels` opens them all.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal, get_args

from billet.composition import Composition
from billet.tables.practice import decision_numbers
from billet.tables.reading import read_toml
from billet.tables.steel_names import SteelName, nearest_names, resolve, search, steel_names

__all__ = [
    "HardeningRow", "Steel", "SteelName", "find_steel", "nearest_names", "search", "steel_names",
    "steels",
]  # fmt: skip

Seen = Literal["print", "memory", "mixed"]
"""print: read in a published text or a public transcription of it; memory: not confirmed in print;
mixed: some figures the one, some the other, told apart in the note."""
Range = tuple[float, float]
Start = Literal["normalised", "spheroidised"]
"""Structure before hardening."""
STARTS: tuple[Start, ...] = get_args(Start)


@dataclass(frozen=True)
class HardeningRow:
    """What one source says about heat treating a grade. Temperatures in C.

    `harden_c` is (low, nominal, high), None where the source gives none or the grade does not harden;
    `single` marks one printed temperature filling all three. `medium` is what the source says, `media` the
    same as kinds in the order of the alphabet (of a working row only; "oil" where it names no class).
    `hardness` holds pairs (HRC, temper C), the temper None as quenched: most are typical values of small
    pieces, never guarantees.
    Exactly one row of a grade that hardens is `working`, with `why` it was chosen; an `outlier` is
    shown and never counted. `fine_start`: the row holds for a fine pearlite start, as after normalising.
    """

    source: str
    harden_c: tuple[float, float, float] | None
    single: bool
    normalise_c: Range | None
    anneal_c: Range | None
    forge_c: Range | None
    medium: str
    media: tuple[str, ...]
    hardness: tuple[tuple[float, float | None], ...]
    ms_c: float | None
    seen: Seen
    note: str
    outlier: bool
    working: bool
    why: str
    fine_start: bool

    @property
    def window_c(self) -> Range | None:
        """The printed range; a single temperature T as T - 10 to T + 15 (own construction, see the
        group `window` of the rules of practice). None without a temperature."""
        if self.harden_c is None:
            return None
        low, nominal, high = self.harden_c
        if self.single:
            widths = decision_numbers("window")
            return (nominal - widths["single_low_k"], nominal + widths["single_high_k"])
        return (low, high)


@dataclass(frozen=True)
class Steel:
    """One grade. `nominal`, `low` and `high` in wt%; an element missing from `low` or `high` has no
    such limit in the standard, which is not a limit of zero. P and S have only a `high`.

    `unconfirmed`: no public text was found for the analysis; `conflicts`: where sources disagree.
    """

    id: str
    family: str
    designation: str
    standard: str
    number: str
    aliases: tuple[str, ...]
    relatives: tuple[str, ...]
    nominal: Composition
    low: Mapping[str, float]
    high: Mapping[str, float]
    source: str
    seen: Seen
    seen_note: str
    unconfirmed: bool
    density_g_cm3: float
    density_source: str
    hardening: tuple[HardeningRow, ...]
    conflicts: tuple[str, ...]

    def __hash__(self) -> int:
        return hash(self.id)

    def __reduce__(self) -> tuple[Any, ...]:
        """A grade travels as its name; the library at the other end has the rest."""
        return (find_steel, (self.id,))

    @property
    def working(self) -> HardeningRow | None:
        """The one row whose range is worked with; None for a grade that does not harden by itself."""
        return next((row for row in self.hardening if row.working), None)

    def working_from(self, start: Start) -> HardeningRow | None:
        """The row to work with from this structure: one that needs a fine start gives way to another
        published row where the blade is spheroidised."""
        working = self.working
        if working is None or not working.fine_start or start == "normalised":
            return working
        others = [r for r in self.hardening if r.harden_c and not r.outlier and not r.fine_start]
        return min(others, key=lambda r: r.seen != "print", default=working)

    @property
    def published_envelope_c(self) -> Range | None:
        """From the lowest to the highest published hardening temperature, outliers left out."""
        windows = [row.window_c for row in self.hardening if row.window_c and not row.outlier]
        if not windows:
            return None
        return (min(low for low, _ in windows), max(high for _, high in windows))

    @property
    def carbon_wt(self) -> Range:
        """Lowest and highest carbon of the grade; its usual carbon where the standard sets no bound."""
        usual = self.nominal["C"]
        return (self.low.get("C", usual), self.high.get("C", usual))

    @property
    def forge_c(self) -> Range | None:
        """Forging range: the working row's own, else the first that a row gives."""
        return self._first("forge_c")

    @property
    def normalise_c(self) -> Range | None:
        """Normalising range: the working row's own, else the first that a row gives."""
        return self._first("normalise_c")

    @property
    def anneal_c(self) -> Range | None:
        """Annealing range: the working row's own, else the first that a row gives."""
        return self._first("anneal_c")

    @property
    def ms_c(self) -> float | None:
        """Printed start of martensite; a loose check only, never an input."""
        return next((row.ms_c for row in self._preferred() if row.ms_c is not None), None)

    def _preferred(self) -> list[HardeningRow]:
        counted = (row for row in self.hardening if not row.outlier)
        return sorted(counted, key=lambda row: not row.working)

    def _first(self, field: str) -> Range | None:
        for row in self._preferred():
            value: Range | None = getattr(row, field)
            if value is not None:
                return value
        return None


@cache
def steels() -> tuple[Steel, ...]:
    """All grades, in the order of the list of names."""
    return tuple(_steel(name) for name in steel_names())


def find_steel(name: str) -> Steel:
    """The grade with this designation, number or alias; prefix, case, spaces and dashes do not matter.

    Raises UnknownSteel (with the nearest designations) or AmbiguousSteel (with the candidates).
    """
    return _steel(resolve(name))


@cache
def _steel(name: SteelName) -> Steel:
    row = dict(read_toml(f"steels_{name.family}.toml")[name.id])
    rows = read_toml(f"hardening_{name.family}.toml").get(name.id, [])
    density = read_toml("densities.toml")[row.pop("density")]
    return Steel(
        id=name.id,
        family=name.family,
        designation=name.designation,
        number=name.number,
        aliases=name.aliases,
        relatives=name.relatives,
        nominal=Composition(row.pop("nominal")),
        conflicts=tuple(row.pop("conflicts", ())),
        unconfirmed=row.pop("unconfirmed", False),
        density_g_cm3=density["g_cm3"],
        density_source=density["source"],
        hardening=tuple(_hardening(entry) for entry in rows),
        **row,
    )


def _hardening(entry: Mapping[str, Any]) -> HardeningRow:
    row = dict(entry)
    harden = row.pop("harden_c", None)
    single = isinstance(harden, float)
    return HardeningRow(
        harden_c=(harden, harden, harden) if single else _numbers(harden),
        single=single,
        normalise_c=_numbers(row.pop("normalise_c", None)),
        anneal_c=_numbers(row.pop("anneal_c", None)),
        forge_c=_numbers(row.pop("forge_c", None)),
        hardness=_hardness(row.pop("as_quenched_hrc", None), row.pop("tempered_hrc", ())),
        ms_c=row.pop("ms_c", None),
        media=tuple(row.pop("media", ())),
        note=row.pop("note", ""),
        outlier=row.pop("outlier", False),
        fine_start=row.pop("fine_start", False),
        working="why" in row,
        why=row.pop("why", ""),
        **row,
    )


def _numbers(values: list[float] | None) -> Any:
    return None if values is None else tuple(values)


def _hardness(
    as_quenched_hrc: float | None, tempered: list[list[float]]
) -> tuple[tuple[float, float | None], ...]:
    found: list[tuple[float, float | None]] = [(hrc, temper_c) for temper_c, hrc in tempered]
    return tuple(found if as_quenched_hrc is None else [(as_quenched_hrc, None), *found])
