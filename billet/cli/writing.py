"""The answer on its way to standard output, whatever that output is able to take."""

import csv
import errno
import io
import json
import os
import shutil
import sys
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

NARROWEST, WIDEST = 40, 100
ASCII = str.maketrans(
    {
        "°": " ", "×": "x", "·": "*", "±": "+-", "µ": "u", "μ": "u", "−": "-", "–": "-", "—": "-", "’": "'",
        "‘": "'", "“": '"', "”": '"', "…": "...", "²": "2", "³": "3", "½": "1/2", "¼": "1/4", "¾": "3/4",
        "☐": "[ ]", "\u00a0": " ", "\u2009": " ", "\u202f": " ", "→": "->", "≥": ">=", "≤": "<=", "é": "e",
    }
)  # fmt: skip


class OutputFailed(Exception):
    """The answer could not be written; the text says why."""


@dataclass(frozen=True)
class Answer:
    """What is to be written, and what it is."""

    text: str
    kind: Literal["text", "json", "csv", "script"] = "text"
    raw: bytes | None = None
    """Written instead of the text, as it is."""


def as_json(value: Any) -> Answer:
    """A value as JSON."""
    return Answer(json.dumps(value, ensure_ascii=False, allow_nan=False, indent=1), "json")


def as_csv(rows: Sequence[Mapping[str, Any]]) -> Answer:
    """Rows as CSV (RFC 4180, but lines end as on this system): a column for every key of any row.

    A table in a cell becomes columns with dotted names, a list its values with ; between, None nothing.
    """
    flat = [_flat(row) for row in rows]
    columns = list(dict.fromkeys(key for row in flat for key in row))
    written = io.StringIO()
    writer = csv.DictWriter(written, columns, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(flat)
    return Answer(written.getvalue(), "csv")


def _flat(row: Mapping[str, Any], before: str = "") -> dict[str, Any]:
    cells: dict[str, Any] = {}
    for key, value in row.items():
        if isinstance(value, Mapping):
            cells |= _flat(value, f"{before}{key}.")
        elif isinstance(value, list):
            cells[before + key] = ";".join(_listed(item) for item in value)
        elif isinstance(value, bool):
            cells[before + key] = "true" if value else "false"
        else:
            cells[before + key] = value
    return cells


def _listed(item: Any) -> str:
    if isinstance(item, Mapping | list):
        return json.dumps(item, ensure_ascii=False, allow_nan=False)
    return str(item)


def page_width() -> int:
    """Columns of the terminal (COLUMNS before all), 100 where there is none, and never over 100."""
    return min(max(shutil.get_terminal_size((WIDEST, 24)).columns, NARROWEST), WIDEST)


def write(answer: Answer) -> None:
    """To standard output. A reader that has gone away is no fault. Raises OutputFailed."""
    if sys.stdout is None:
        return
    text = answer.text if answer.text.endswith("\n") else answer.text + "\n"
    try:
        if answer.raw is not None:
            sys.stdout.buffer.write(answer.raw)
        else:
            sys.stdout.write(_legible(text, answer.kind, sys.stdout.encoding or "utf-8"))
        sys.stdout.flush()
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    except OSError as error:
        if error.errno == errno.EPIPE:
            return
        raise OutputFailed(f"the answer cannot be written: {error.strerror}") from None


def _legible(text: str, kind: str, encoding: str) -> str:
    """The text itself where the output can hold it; else JSON escaped, words in plain letters."""
    try:
        text.encode(encoding)
        return text
    except (UnicodeEncodeError, LookupError):
        if kind == "json":
            return json.dumps(json.loads(text), allow_nan=False, indent=1) + "\n"
        return text.translate(ASCII).encode("ascii", "replace").decode("ascii")
