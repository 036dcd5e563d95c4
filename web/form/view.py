"""The form as a page draws it: groups of fields with their text, their faults and their buttons."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from billet import Fault

Kind = Literal[
    "text",
    "length",
    "temperature",
    "difference",
    "number",
    "whole",
    "choice",
    "flag",
    "steel",
    "bar",
    "hidden",
]
"""`steel` and `bar` are choices among the recipe's own names; `hidden` is drawn as a hidden input."""


@dataclass(frozen=True)
class Choice:
    value: str
    label: str


@dataclass(frozen=True)
class Asked:
    """What is asked under a key of the recipe.

    `unit` is the one that a bare number has; `hint` a short sentence; `fallback` the default in words,
    which holds while it is empty; `choices` for the kinds that offer some.
    """

    key: str
    kind: Kind
    label: str
    unit: str = ""
    hint: str = ""
    fallback: str = ""
    required: bool = False
    choices: tuple[Choice, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Field(Asked):
    """One field: what is asked, and what stands there.

    `name` is the form's name and the id at once; `where` the place in the recipe; `text` what
    stands in it ("on" or "" for a flag).
    """

    name: str
    where: str
    text: str
    faults: tuple[Fault, ...] = ()
    signed: bool = False
    """A number that may be below nothing."""
    proposed: bool = False
    """Filled in by the page, and touched by nobody yet."""
    empty: str = ""
    """What stands greyed in the field while it is empty."""
    learn: str = ""
    """Where on the page of scrap the thing is told of that was typed here."""
    wrong: str = ""
    """What is wrong with it, in the words of the page; empty where nothing is."""
    wrong_here: bool = False
    """Whether these words leave it to the field to say where."""

    def told_wrong(self, lead: str) -> str:
        """What is wrong, behind the field; `lead` says where that is, unless the library's words do."""
        if lead and self.wrong_here:
            return f"{lead}{self.label[:1].lower()}{self.label[1:]}: {self.wrong}"
        return f"{self.label}: {self.wrong}"

    @property
    def unit_told(self) -> bool:
        """Whether the text tells its own unit, so that none need stand beside it."""
        return self.kind in ("length", "temperature", "difference") and self.text[-1:].isalpha()


@dataclass(frozen=True)
class Button:
    """A submit button: `<button name="action" value="...">label</button>`."""

    action: str
    label: str


@dataclass(frozen=True)
class Headline:
    """The line of a step: `lead` and `tail` stand before and behind the field whose key is `key`
    ("" where there is none)."""

    lead: str
    key: str = ""
    tail: str = ""


OPEN_WORDS = {"temperature_c": "heat", "minutes": "minutes", "heats": "heats", "trim_mm": "ends cut off"}
"""Short words for what a page proposes; any other key is told by its own first word."""


MEASURED = ("length", "number", "whole")
SIDES = {"height": ("height_mm",), "width": ("width_mm",), "length": ("length_mm", "to_length")}
"""Keys of the fields that tell a side of the bar, as a step may have one."""


@dataclass(frozen=True)
class Group:
    """A set of fields with a heading: one steel, one plate, one step, the stack ...

    `key` is unique in the page and serves as id; `kind` tells the template what it is
    ("steel", "step:draw", ...); `faults` are those that belong to the group and to no field of it.
    `groups` are parts inside (plates of the stack, pieces of a lay, the analysis of a steel).
    """

    key: str
    kind: str
    heading: str
    fields: tuple[Field, ...]
    where: str = ""
    groups: tuple["Group", ...] = ()
    buttons: tuple[Button, ...] = ()
    faults: tuple[Fault, ...] = ()
    folded: bool = False
    """Seldom needed: draw it as a closed <details>, unless it holds a fault or a value."""
    line: Headline | None = None
    """Of a step: its line, with the key of the one field that stands in it."""
    inserts: tuple[Button, ...] = ()
    """Of a step: what may be put in after it."""

    @property
    def all(self) -> tuple["Group", ...]:
        """This group and every one inside it, from the top down."""
        return (self, *(inner for part in self.groups for inner in part.all))

    @property
    def open_words(self) -> tuple[str, ...]:
        """What is proposed in a step beside the field in its line, in a word each."""
        main = self.main
        keys = (f.key for f in self.fields if f.proposed and f != main)
        return tuple(dict.fromkeys(OPEN_WORDS.get(key, key.partition("_")[0]) for key in keys))

    @property
    def main(self) -> Field | None:
        """The field that stands in the line of a step."""
        key = self.line.key if self.line else ""
        return next((f for f in self.fields if f.key == key), None)


class Sided:
    """What has a stack and steps: the form of the bar, and that of each bar made first."""

    stack: Group
    steps: tuple[Group, ...]

    def measures(self, step: int) -> tuple[tuple[str, Field | None], ...]:
        """The sides of the bar after a step (0: the stack as laid), each with the field that tells it."""
        told = self.steps[step - 1].fields if step else self.stack.fields
        by_key = {field.key: field for field in told}
        return tuple(
            (side, next((by_key[key] for key in keys if key in by_key), None)) for side, keys in SIDES.items()
        )

    def other_measure(self, step: int) -> Field | None:
        """The field that stands in the line of a step, where it is none of the sides."""
        main = self.steps[step - 1].main if step else None
        sides = [field for _, field in self.measures(step)]
        return main if main is not None and main.kind in MEASURED and main not in sides else None


@dataclass(frozen=True)
class BarForm(Sided):
    """A bar that is made first: what it is called, its stack and its steps. Its keys start with `key`."""

    key: str
    general: Group
    stack: Group
    steps: tuple[Group, ...]
    first_inserts: tuple[Button, ...]


@dataclass(frozen=True)
class Theirs:
    """The fire and oils that a recipe tells: by whom, in words, whether they count, and what changes that."""

    maker: str
    told: str
    count: bool
    asked_for: bool
    """Whether they count because the reader said so."""
    button: Button | None
    """None where the reader told none to choose between."""


@dataclass(frozen=True)
class FormView(Sided):
    """The whole form, top to bottom; `buttons` stand at the end (plan, add a step ...).

    The form posts to /design (urlencoded, with `units` as hidden field). The first button in the
    page must be the one that Enter presses: put a `plan` button first (it may be visually hidden).
    """

    general: Group
    steels: tuple[Group, ...]
    add_steel: Button
    stack: Group
    forge: Group
    steps: tuple[Group, ...]
    first_inserts: tuple[Button, ...]
    """What may be put in before the first step."""
    bars: tuple[BarForm, ...]
    """The bars that are made first."""
    add_bar: Button
    blade: Group
    control: Group
    shop: Group
    mine: Group
    """The smith's own fire and oils, which are no part of the recipe."""
    theirs: Theirs | None
    """The fire and oils of the recipe; None where it tells none."""
    fire_is_mine: bool
    sheet: Group
    plan: Button
    check: Button
    known_steels: tuple[str, ...]
    """Designations of the library, for one <datalist id="known-steels"> that fields named
    `...grade` and `...like` refer to."""
    faults: tuple[Fault, ...]
    """Faults that belong to no group."""

    @property
    def groups(self) -> tuple[Group, ...]:
        """Every group of the form with what is inside it, from the top down."""
        return tuple(group for _, group in self._led())

    def _led(self) -> Iterator[tuple[str, Group]]:
        """Every group, and what has to be said of where it stands: the bar made first, the step."""
        parts = [self.mine, self.blade, self.control, self.shop, self.sheet, self.forge]
        for name, groups in (
            ("", (self.general, *self.steels)),
            *((f"{bar.general.heading}, ", (bar.general, bar.stack, *bar.steps)) for bar in self.bars),
            ("", (self.stack, *self.steps, *parts)),
        ):
            for group in groups:
                lead = f"{name}{group.heading}, " if group.kind.startswith("step:") else name
                yield from ((f"{lead}{'measured ' * (g.kind == 'measured')}", g) for g in group.all)

    @property
    def to_put_right(self) -> tuple[tuple[str, str], ...]:
        """Every field or group with a fault: its name, and in words where it is and what is wrong."""
        fields = [(f.name, f.told_wrong(lead)) for lead, g in self._led() for f in g.fields if f.wrong]
        around = [(g.key, f.message) for g in self.groups for f in g.faults]
        return (*fields, *around, *(("", fault.message) for fault in self.faults))

    def thickness(self, index: int) -> Field | None:
        """The thickness of the plates of a steel, where it lies in an order that repeats."""
        name = f"stack.thickness_mm[{index}]"
        told = (field for group in self.stack.groups for field in group.fields)
        return next((field for field in told if field.name == name), None)
