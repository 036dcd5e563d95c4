"""What a sheet is: pages, a title block, and sections of cells that are already worded.

Text and HTML lay out the same cells. Three cells mean more than their letters: `BOX` is a box to
tick, `BLANK` a line to write on, `EMPTY` nothing at all. A row with fewer cells than the table has
columns lets its second cell run over the columns that are missing.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Literal

from billet.sheets.drawn import Figure, Operation

SheetKind = Literal["forge", "harden", "kiln", "buyer", "label"]
SectionKind = Literal["table", "large", "checks", "text", "blanks", "cautions", "steps", "figure"]
Column = Literal["wide", "left", "right"]
Stands = Literal["first", "either", "second", "spare"]
"""On the first side of paper; on a second where the first has no room; on a second as soon as one is. What
is spare tells nothing that does not stand elsewhere too, and is left out where that saves a side."""
Cells = tuple[str, ...]

SHEET_KINDS: tuple[SheetKind, ...] = ("forge", "harden", "kiln", "buyer", "label")
BOX = "\u2610"
BLANK = ""
EMPTY = "\u00a0"


@dataclass(frozen=True)
class Section:
    """One part of a sheet; the heading says what is found.

    table: rows of cells, `columns` empty where it only pairs a name with a value. large: names and
    values that are read from afar. checks: a box before each row. text: a paragraph a row. blanks: what is
    asked, and a line to write on. cautions: (word, sentence). steps: the rows are those of a table,
    `operations` the same for a page that draws them. figure: the rows say what `figure` shows. Neighbours of
    the columns left and right stand beside one another on paper.
    """

    heading: str
    kind: SectionKind
    columns: Cells
    rows: tuple[Cells, ...]
    column: Column = "wide"
    figure: Figure | None = None
    operations: tuple[Operation, ...] = ()
    marked: int | None = None
    """The row of a table to which the eye should go."""
    stands: Stands = "first"
    name: str = ""
    """Its heading on a second side, where it has none of its own; the first side tells of it by this."""

    def beside(self, column: Column) -> "Section":
        """The same in one of two columns."""
        return replace(self, column=column)

    def may_go_over(self, name: str, stands: Stands = "second") -> "Section":
        """The same with the name by which it stands on a second side of paper."""
        return replace(self, name=name, stands=stands)


@dataclass(frozen=True)
class Page:
    """One side of paper: the answer in large letters, one order that holds throughout, the sections."""

    statement: str
    order: str
    sections: tuple[Section, ...]


@dataclass(frozen=True)
class Sheet:
    """One job on paper; `kind` is its name in words.

    `title_block` holds (label, value) pairs; a BLANK value is a line to write on.
    """

    title: str
    kind: str
    title_block: tuple[tuple[str, str], ...]
    pages: tuple[Page, ...]

    @property
    def statement(self) -> str:
        """The answer of the first page."""
        return self.pages[0].statement

    @property
    def sections(self) -> tuple[Section, ...]:
        """The sections of all pages in order."""
        return tuple(section for page in self.pages for section in page.sections)

    def place(self, page: int) -> str:
        """Which of the sheet's pages this is, from 0: 1 of 2."""
        return f"{page + 1} of {len(self.pages)}"


def table(heading: str, columns: Sequence[str], rows: Sequence[Sequence[str]]) -> Section:
    """A table of worded cells."""
    return Section(heading, "table", tuple(columns), tuple(tuple(row) for row in rows))


def pairs(heading: str, rows: Sequence[tuple[str, str]]) -> Section:
    """Names and values without column heads."""
    return table(heading, (), rows)


def large(rows: Sequence[tuple[str, str]]) -> Section:
    """Names and values that are read from afar."""
    return Section("", "large", (), tuple(rows))


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


def drawn(heading: str, figure: Figure, told: Sequence[str]) -> Section:
    """A drawing and what it shows in words."""
    return Section(heading, "figure", (), tuple((line,) for line in told), figure=figure)


def filled(*sections: Section | None) -> tuple[Section, ...]:
    """The sections that hold something, in order."""
    return tuple(section for section in sections if section is not None and section.rows)
