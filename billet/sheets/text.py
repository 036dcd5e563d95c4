"""A sheet as plain text: the same cells as on the page, at most 100 columns wide."""

from billet.sheets import layout
from billet.sheets.model import BLANK, BOX, EMPTY, Section, Sheet

BOX_TEXT = "[ ]"
CELL_LINE = "_" * 10
ASKED_WIDTH = 34
LINE_WIDTH = 14
INDENT = "    "
BLOCK_COLUMN = 47


def sheet_text(sheet: Sheet) -> str:
    """The sheet in letters of one width, `[ ]` to tick and `____` to write on."""
    lines = layout.heading(f"{sheet.title}: {sheet.kind}", "=")
    lines += ["", *(f">>> {line}" for line in layout.wrapped(sheet.statement, layout.WIDTH - 4))]
    for section in sheet.sections:
        lines += ["", *_section(section)]
    lines += ["", *_title_block(sheet)]
    return "\n".join(line.rstrip() for line in lines) + "\n"


def _section(section: Section) -> list[str]:
    head = layout.heading(section.heading) if section.heading else []
    rows = [tuple(_cell(cell) for cell in row) for row in section.rows]
    if section.kind == "table":
        return head + layout.table(section.columns, rows)
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


def _cell(cell: str) -> str:
    special = {BOX: BOX_TEXT, BLANK: CELL_LINE, EMPTY: ""}
    return special.get(cell, cell)


def _blanks(section: Section) -> list[str]:
    """Two to a line; what is asked in a long sentence has a line of its own."""
    asked = [row[0] for row in section.rows]
    if any(len(what) > ASKED_WIDTH for what in asked):
        return [line for what in asked for line in _long_blank(what)]
    lines = []
    for i in range(0, len(asked), 2):
        both = (f"{layout.plain(what):<{ASKED_WIDTH}}{'_' * LINE_WIDTH}" for what in asked[i : i + 2])
        lines.append("    ".join(both))
    return lines


def _long_blank(what: str) -> list[str]:
    lines = layout.wrapped(what, layout.WIDTH - 22, INDENT)
    room = layout.WIDTH - len(lines[-1]) - 1
    return [*lines[:-1], f"{lines[-1]} {'_' * max(room, LINE_WIDTH)}"]


def _title_block(sheet: Sheet) -> list[str]:
    """Title and kind over the pairs, two side by side, in a frame."""
    inside = 2 * BLOCK_COLUMN + 2
    wide = [("Title", sheet.title), ("What it is", sheet.kind)]
    wide += [pair for pair in sheet.title_block if not _fits(pair)]
    narrow = [_pair(pair) for pair in sheet.title_block if _fits(pair)]
    rows = [line for pair in wide for line in layout.wrapped(_pair(pair), inside, INDENT)]
    for i in range(0, len(narrow), 2):
        left, right = narrow[i], narrow[i + 1] if i + 1 < len(narrow) else ""
        rows.append(f"{left:<{BLOCK_COLUMN}}  {right}")
    edge = f"+{'-' * (inside + 2)}+"
    return [edge, *(f"| {row:<{inside}} |" for row in rows), edge]


def _pair(pair: tuple[str, str]) -> str:
    label, value = pair
    return layout.plain(f"{label}: {value or CELL_LINE}")


def _fits(pair: tuple[str, str]) -> bool:
    return len(_pair(pair)) <= BLOCK_COLUMN
