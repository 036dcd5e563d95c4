"""A sheet as plain text: the same cells as on the page, no wider than the page that is laid out."""

from billet.sheets import layout
from billet.sheets.model import BLANK, BOX, EMPTY, Section, Sheet
from billet.sheets.text_drawings import figure_lines

BOX_TEXT = "[ ]"
CELL_LINE = "_" * 10
ASKED_WIDTH = 34
LINE_WIDTH = 14
INDENT = "    "
FRAME_AND_GAP = 6


def sheet_text(sheet: Sheet) -> str:
    """The sheet in letters of one width, `[ ]` to tick and `____` to write on."""
    lines: list[str] = []
    for place in range(len(sheet.pages)):
        lines += [*([""] if place else []), *_page(sheet, place)]
    lines += ["", *_title_block(sheet)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _page(sheet: Sheet, place: int) -> list[str]:
    """One side of paper; only where there are several its place is told."""
    page = sheet.pages[place]
    side = f", sheet {sheet.place(place)}" if len(sheet.pages) > 1 else ""
    lines = layout.heading(f"{sheet.title}: {sheet.kind}{side}", "=")
    for words, mark in ((page.statement, ">>> "), (page.order, "  > ")):
        lines += (
            ["", *(f"{mark}{line}" for line in layout.wrapped(words, layout.page_width() - 4))]
            if words
            else []
        )
    for section in page.sections:
        lines += ["", *_section(section)]
    return lines


def _section(section: Section) -> list[str]:
    head = layout.heading(section.heading) if section.heading else []
    rows = [tuple(_cell(cell) for cell in row) for row in section.rows]
    if section.kind in {"table", "large", "steps"}:
        return head + layout.table(section.columns, _marked(section, rows))
    if section.figure is not None:
        return head + figure_lines(section.figure, layout.page_width()) + _told(rows)
    if section.kind == "blanks":
        return head + _blanks(section)
    lines = list(head)
    for row in section.rows:
        if section.kind == "checks":
            lines += layout.bullet(" ".join(cell for cell in row if cell != BOX), BOX_TEXT)
        elif section.kind == "cautions":
            lines += layout.bullet(": ".join(row), "!!")
        else:
            lines += layout.wrapped(" ".join(row))
    return lines


def _marked(section: Section, rows: list[tuple[str, ...]]) -> list[tuple[str, ...]]:
    """An arrow before the row to which the eye should go."""
    if section.marked is None:
        return rows
    return [(f"{'> ' if i == section.marked else '  '}{row[0]}", *row[1:]) for i, row in enumerate(rows)]


def _told(rows: list[tuple[str, ...]]) -> list[str]:
    return [line for row in rows for line in layout.wrapped(" ".join(row))]


def _cell(cell: str) -> str:
    special = {BOX: BOX_TEXT, BLANK: CELL_LINE, EMPTY: ""}
    return special.get(cell, cell)


def _blanks(section: Section) -> list[str]:
    """Two to a line; what is asked in a long sentence has a line of its own."""
    asked = [row[0] for row in section.rows]
    if any(len(what) > ASKED_WIDTH for what in asked):
        return [line for what in asked for line in _long_blank(what)]
    a_line = 2 if 2 * (ASKED_WIDTH + LINE_WIDTH) + len(INDENT) <= layout.page_width() else 1
    lines = []
    for i in range(0, len(asked), a_line):
        each = (f"{layout.plain(what):<{ASKED_WIDTH}}{'_' * LINE_WIDTH}" for what in asked[i : i + a_line])
        lines.append(INDENT.join(each))
    return lines


def _long_blank(what: str) -> list[str]:
    lines = layout.wrapped(what, layout.page_width() - 22, INDENT)
    room = layout.page_width() - len(lines[-1]) - 1
    return [*lines[:-1], f"{lines[-1]} {'_' * max(room, LINE_WIDTH)}"]


def _title_block(sheet: Sheet) -> list[str]:
    """Title and kind over the pairs, two side by side, in a frame."""
    column = _block_column()
    inside = 2 * column + 2
    wide = [("Title", sheet.title), ("What it is", sheet.kind)]
    wide += [pair for pair in sheet.title_block if not _fits(pair)]
    narrow = [_pair(pair) for pair in sheet.title_block if _fits(pair)]
    rows = [line for pair in wide for line in layout.wrapped(_pair(pair), inside, INDENT)]
    for i in range(0, len(narrow), 2):
        left, right = narrow[i], narrow[i + 1] if i + 1 < len(narrow) else ""
        rows.append(f"{left:<{column}}  {right}")
    edge = f"+{'-' * (inside + 2)}+"
    return [edge, *(f"| {row:<{inside}} |" for row in rows), edge]


def _block_column() -> int:
    """Columns of one of the two halves: 47 on a page of 100."""
    return (layout.page_width() - FRAME_AND_GAP) // 2


def _pair(pair: tuple[str, str]) -> str:
    label, value = pair
    return layout.plain(f"{label}: {value or CELL_LINE}")


def _fits(pair: tuple[str, str]) -> bool:
    return len(_pair(pair)) <= _block_column()
