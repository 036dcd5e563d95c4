"""What one field of a recipe is: the form of the declaration from which all else is made."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Literal

Kind = Literal[
    "number", "whole", "flag", "text", "day", "choice", "ends", "range", "steel", "steels", "some", "keys",
    "bar", "bars", "each", "table", "rows", "plates", "lay",
]  # fmt: skip
"""`day` is text or a TOML date; `ends` one number or [handle end, far end]; `range` [low, high] and
rising; `steel` and `steels` the recipe's own names, `some` of them in no order; `keys` keys of
the same table, in its order; `each` a number for each
steel of the pattern; `bar` and `bars` the name of one and of several bars made first; `table` and `rows`
one and many tables of `inner`; `plates` plates of `inner`, laid bars of `bar_inner` and courses of them of
`beside_inner` from the bottom up; `lay` the same, and pieces of the bar."""

NAME_LONGEST = 40
TITLE_LONGEST = 120
NOTE_LONGEST = 300


@dataclass(frozen=True)
class Choice:
    """A word that may be chosen, and how a page words it."""

    value: str
    label: str


@dataclass(frozen=True)
class DefaultIf:
    """Another default, which holds while a field of the same table has a value."""

    key: str
    value: Any
    default: Any


@dataclass(frozen=True)
class FieldSpec:
    """One key of a table.

    `noun` is what a sentence calls it, `help` what the schema and the help say of it, `label` what a
    page writes beside it. `bounds` are the least and greatest value, length of a list or length of a
    text, both allowed. A field with neither default nor `required` may be left out.
    """

    key: str
    kind: Kind
    noun: str
    help: str
    label: str = ""
    unit: str = ""
    bounds: tuple[float, float] = (0.0, 0.0)
    default: Any = None
    default_if: DefaultIf | None = None
    reckoned: str = ""
    """How the value of a field that is left out comes about, where it is no constant; `default` then only
    holds its place."""
    required: bool = False
    offered: tuple[Choice, ...] | Callable[[], tuple[Choice, ...]] = ()
    inner: "TableSpec | None" = None
    bar_inner: "TableSpec | None" = None
    """The table of a bar made first, where one may lie in place of a plate."""
    beside_inner: "TableSpec | None" = None
    """The table of a course of bars side by side, where one may lie in place of a plate."""
    hint: str = ""
    attribute: str = ""
    """Name of the field of the model, where it is not the key."""

    @property
    def name(self) -> str:
        return self.attribute or self.key

    @property
    def named(self) -> str:
        """The field in a sentence: what it is, and its key in brackets unless it is the same word."""
        return self.noun if self.key in self.noun.split() else f"{self.noun} ({self.key})"

    @property
    def choices(self) -> tuple[Choice, ...]:
        return self.offered() if callable(self.offered) else self.offered

    @property
    def words(self) -> tuple[str, ...]:
        """What may be chosen, as the recipe writes it."""
        return tuple(choice.value for choice in self.choices)

    @property
    def ends(self) -> tuple[str, str] | None:
        """What each of two numbers is; None for a field that holds one thing."""
        pairs: dict[str, tuple[str, str]] = {"ends": ("handle end", "far end"), "range": ("low", "high")}
        return pairs.get(self.kind)

    def read_as(self, item: Any) -> "TableSpec":
        """What an item of a list is read as: a bar or a course of bars by its keys, else a plate."""
        assert self.inner is not None
        if isinstance(item, Mapping):
            for spec in (self.beside_inner, self.bar_inner):
                if spec is not None and any(one.key in item for one in spec.fields):
                    return spec
        return self.inner

    def default_in(self, table: Mapping[str, Any]) -> Any:
        """The default beside what the table says; None where there is none."""
        other = self.default_if
        return other.default if other and table.get(other.key) == other.value else self.default


@dataclass(frozen=True)
class Either:
    """Groups of keys of which a table gives exactly one, at most one or at least one."""

    groups: tuple[tuple[str, ...], ...]
    how: Literal["exactly", "most", "least"] = "exactly"
    where: str = ""
    """Key at which a fault is told; the table itself where it is empty."""


@dataclass(frozen=True)
class TableSpec:
    """One table of a recipe, and what its values become."""

    key: str
    help: str
    fields: tuple[FieldSpec, ...]
    make: Callable[..., Any]
    label: str = ""
    either: Either | None = None
    rule: Callable[[Any], "tuple[str, str] | None"] | None = None
    """What must hold between fields: the key and the sentence of the first fault, or None."""

    def field(self, key: str) -> FieldSpec:
        """The field of a key. Raises KeyError for one that the table does not have."""
        return {spec.key: spec for spec in self.fields}[key]


def number(
    key: str, noun: str, help: str, bounds: tuple[float, float], unit: str = "", **more: Any
) -> FieldSpec:
    """A finite number within bounds."""
    return FieldSpec(key, "number", noun, help, unit=unit, bounds=bounds, **more)


def whole(key: str, noun: str, help: str, bounds: tuple[int, int], **more: Any) -> FieldSpec:
    """A whole number within bounds."""
    return FieldSpec(key, "whole", noun, help, bounds=bounds, **more)


def flag(key: str, noun: str, help: str, default: bool, **more: Any) -> FieldSpec:
    """True or false."""
    return FieldSpec(key, "flag", noun, help, default=default, **more)


def text(key: str, noun: str, help: str, longest: int = NAME_LONGEST, **more: Any) -> FieldSpec:
    """One line of printable text."""
    return FieldSpec(key, "text", noun, help, bounds=(1, longest), **more)


def choice(key: str, noun: str, help: str, *offered: tuple[str, str], **more: Any) -> FieldSpec:
    """One of some words."""
    listed = tuple(Choice(value, label) for value, label in offered)
    return FieldSpec(key, "choice", noun, help, **{"offered": listed, **more})


def ends(key: str, noun: str, help: str, bounds: tuple[float, float], **more: Any) -> FieldSpec:
    """A length at both ends of the bar."""
    told = f"{help}; one number for both ends or [handle end, far end]"
    return FieldSpec(key, "ends", noun, told, unit="mm", bounds=bounds, **more)
