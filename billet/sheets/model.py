"""What a sheet is: a statement, a title block and sections of cells that are already worded.

Text and HTML lay out the same cells. Three cells mean more than their letters: `BOX` is a box to
tick, `BLANK` a line to write on, `EMPTY` nothing at all. A row with fewer cells than the table has
columns lets its second cell run over the columns that are missing.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

SheetKind = Literal["forge", "harden", "kiln", "buyer", "label"]
SectionKind = Literal["table", "checks", "text", "blanks", "cautions"]
Cells = tuple[str, ...]
Setting = Literal["open", "close", "tight", "dense"]

SHEET_KINDS: tuple[SheetKind, ...] = ("forge", "harden", "kiln", "buyer", "label")
SETTINGS: tuple[tuple[Setting, float], ...] = (("open", 20.0), ("close", 26.0), ("tight", 41.0))
"""How closely a sheet is set, by the most lines that it may have."""
LETTERS_A_LINE = 70
LEAST_ROW_LINES = 1.4
BOX = "\u2610"
BLANK = ""
EMPTY = "\u00a0"


@dataclass(frozen=True)
class Section:
    """One part of a sheet; the heading says what is found.

    table: rows of cells, `columns` empty where it only pairs a name with a value. checks: a box
    before each row. text: a paragraph a row. blanks: what is asked, and a line to write on.
    cautions: (word, sentence).
    """

    heading: str
    kind: SectionKind
    columns: Cells
    rows: tuple[Cells, ...]


@dataclass(frozen=True)
class Sheet:
    """A sheet of paper: `statement` is the answer in large letters, `kind` the sheet's name in words.

    `title_block` holds (label, value) pairs; a BLANK value is a line to write on.
    """

    title: str
    kind: str
    statement: str
    title_block: tuple[tuple[str, str], ...]
    sections: tuple[Section, ...]

    @property
    def setting(self) -> Setting:
        """So many lines, so tight the setting: twelve steps have to fit one side."""
        lines = sum(_lines(section) for section in self.sections)
        return next((name for name, most in SETTINGS if lines <= most), "dense")


def _lines(section: Section) -> float:
    """About how many lines a section takes up on paper, in heights of a heading."""
    rows = sum(max(sum(len(cell) for cell in row) / LETTERS_A_LINE, LEAST_ROW_LINES) for row in section.rows)
    return rows + (1.0 if section.heading else 0.0)


def table(heading: str, columns: Sequence[str], rows: Sequence[Sequence[str]]) -> Section:
    """A table of worded cells."""
    return Section(heading, "table", tuple(columns), tuple(tuple(row) for row in rows))


def pairs(heading: str, rows: Sequence[tuple[str, str]]) -> Section:
    """Names and values without column heads."""
    return table(heading, (), rows)


def checks(heading: str, lines: Sequence[str | Sequence[str]]) -> Section:
    """Lines with a box to tick before each."""
    rows = [(BOX, line) if isinstance(line, str) else (BOX, *line) for line in lines]
    return Section(heading, "checks", (), tuple(tuple(row) for row in rows))


def text(heading: str, paragraphs: Sequence[str]) -> Section:
    """Paragraphs."""
    return Section(heading, "text", (), tuple((paragraph,) for paragraph in paragraphs))


def blanks(heading: str, asked: Sequence[str]) -> Section:
    """What is asked, each with a line to write on."""
    return Section(heading, "blanks", (), tuple((what, BLANK) for what in asked))


def cautions(heading: str, rows: Sequence[tuple[str, str]]) -> Section:
    """A word and a sentence a row."""
    return Section(heading, "cautions", (), tuple(rows))


def filled(*sections: Section | None) -> tuple[Section, ...]:
    """The sections that hold something, in order."""
    return tuple(section for section in sections if section is not None and section.rows)
