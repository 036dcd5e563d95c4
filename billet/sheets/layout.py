"""Lays worded cells out in letters of one width: wrapped lines and tables no wider than the page."""

import re
import textwrap
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from contextvars import ContextVar

from billet.wording import MINUS, THIN

WIDTH = 100
_PAGE: ContextVar[int] = ContextVar("width of the page, columns", default=WIDTH)
GAP = 2
LEAST_COLUMN = 5
PLAIN = str.maketrans({THIN: " ", "\u00a0": " ", MINUS: "-"})


@contextmanager
def page(width: int) -> Iterator[None]:
    """Whatever is laid out inside is at most so many columns wide."""
    before = _PAGE.set(width)
    try:
        yield
    finally:
        _PAGE.reset(before)


def page_width() -> int:
    """Columns of the page that is being laid out, 100 unless told."""
    return _PAGE.get()


def plain(text: str) -> str:
    """For a terminal or a file: ordinary spaces and minus signs."""
    return text.translate(PLAIN)


def sentence(text: str, names: Sequence[str] = ()) -> str:
    """With a capital at the beginning and a full stop at the end; a steel's name keeps its letters."""
    stripped = text.strip()
    if not stripped:
        return ""
    named = any(re.match(rf"{re.escape(name)}(?!\w)", stripped) for name in names if name)
    begun = stripped if named else f"{stripped[0].upper()}{stripped[1:]}"
    return begun if begun.endswith((".", "?", "!", ":")) else f"{begun}."


def wrapped(text: str, width: int | None = None, indent: str = "") -> list[str]:
    """Lines of at most `width`; a number stays with its unit, a designation is not cut at its dash."""
    lines = textwrap.wrap(text, width or page_width(), subsequent_indent=indent, break_on_hyphens=False)
    return [plain(line) for line in lines]


def paragraph(text: str, width: int | None = None) -> str:
    """A wrapped paragraph."""
    return "\n".join(wrapped(text, width))


def bullet(text: str, mark: str = "-", width: int | None = None) -> list[str]:
    """A wrapped line behind a mark."""
    head = f"{mark} "
    return wrapped(head + text, width, " " * len(head))


def heading(text: str, rule: str = "-", width: int | None = None) -> list[str]:
    """A heading with a rule below it."""
    lines = wrapped(text, width)
    return [*lines, rule * max((len(line) for line in lines), default=0)]


def table(columns: Sequence[str], rows: Sequence[Sequence[str]], width: int | None = None) -> list[str]:
    """Columns side by side, wrapped until the table is no wider than `width`.

    `columns` may be empty. In a row with fewer cells than there are columns the second cell runs
    over the columns that are missing.
    """
    width = width or page_width()
    count = max(len(columns), *(len(row) for row in rows)) if rows else len(columns)
    widths = fitted_widths(columns, [row for row in rows if len(row) == count], width)
    _make_room_for_spans(widths, rows, width)
    lines: list[str] = []
    if columns:
        lines += _side_by_side(columns, widths)
        lines.append("-" * (sum(widths) + GAP * (count - 1)))
    for row in rows:
        lines += _side_by_side(row, _spanning(widths, len(row)))
    return lines


def fitted_widths(columns: Sequence[str], rows: Sequence[Sequence[str]], width: int) -> list[int]:
    """Widths of the columns: as wide as their cells ask, the widest narrowed until all fit.

    A column's head asks for no more than its longest word, and is given more where there is room.
    """
    heads = [_longest_word(name) for name in columns] or [0] * len(rows[0])
    cells = list(zip(*rows, strict=True)) or [() for _ in heads]
    widths = [max(LEAST_COLUMN, head, *map(len, column)) for head, column in zip(heads, cells, strict=True)]
    least = [max(head, *map(_longest_word, column)) for head, column in zip(heads, cells, strict=True)]
    room = width - GAP * (len(widths) - 1)
    while sum(widths) > room:
        candidates = [i for i, w in enumerate(widths) if w > max(least[i], LEAST_COLUMN)]
        if not candidates:
            break
        widths[max(candidates, key=lambda i: widths[i])] -= 1
    for i, name in enumerate(columns):
        widths[i] += max(0, min(len(name) - widths[i], room - sum(widths)))
    return widths


def _make_room_for_spans(widths: list[int], rows: Sequence[Sequence[str]], width: int) -> None:
    """Widen the last column under a cell that runs over several, as far as the table may grow."""
    for row in rows:
        missing = len(widths) - len(row)
        if missing > 0 and len(row) > 1:
            room = width - sum(widths) - GAP * (len(widths) - 1)
            asked = len(row[1]) - _spanning(widths, len(row))[1]
            widths[1 + missing] += max(0, min(room, asked))


def _longest_word(cell: str) -> int:
    return max((len(word) for word in cell.split(" ")), default=0)


def _spanning(widths: list[int], cells: int) -> list[int]:
    missing = len(widths) - cells
    if missing <= 0 or cells < 2:
        return widths
    joined = sum(widths[1 : 2 + missing]) + GAP * missing
    return [widths[0], joined, *widths[2 + missing :]]


def _side_by_side(cells: Sequence[str], widths: Sequence[int]) -> list[str]:
    columns = [wrapped(cell, w) or [""] for cell, w in zip(cells, widths, strict=True)]
    tall = max(len(column) for column in columns)
    lines = []
    for i in range(tall):
        parts = [c[i] if i < len(c) else "" for c in columns]
        padded = (f"{part:<{w}}" for part, w in zip(parts, widths, strict=True))
        lines.append((" " * GAP).join(padded).rstrip())
    return lines
