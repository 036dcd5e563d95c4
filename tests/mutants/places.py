"""Where something can be made wrong: numbers of formulas and of the data, branches and numbers of the rules.

A place is known by its file, its function (or its key in the data), the kind of change and how many such
stand before it there, so that an edit elsewhere moves no place. What is left out makes nothing wrong that a
test could see: figures under 1e-6 (tolerances), indices, arguments of decorators (the ranges that formulas
were fitted in are held by tests/published/ranges) and messages of errors.
"""

import ast
import re
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
RULE_ROOMS = ("forging", "diffusion", "recipe", "hardening", "report")
RULES_DATA = (
    "practice.toml",
    "uncertainty.toml",
    "control.toml",
    "media.toml",
    "forging.toml",
    "heat_cycle.toml",
)
SMALLEST = 1e-6
BEGINNING = "beginning.py"
"""Where the solver begins: tests/test_equilibrium.py holds that no answer depends on it."""
TURNED: dict[type[ast.cmpop], tuple[str, str]] = {
    ast.Lt: ("<", ">="),
    ast.LtE: ("<=", ">"),
    ast.Gt: (">", "<="),
    ast.GtE: (">=", "<"),
    ast.Eq: ("==", "!="),
    ast.NotEq: ("!=", "=="),
    ast.Is: ("is", "is not"),
    ast.IsNot: ("is not", "is"),
    ast.In: ("in", "not in"),
    ast.NotIn: ("not in", "in"),
}
NUMBER = re.compile(r"(?<![\w.\-+])-?\d+(?:\.\d+)?(?:e-?\d+)?(?![\w.])")
STRINGS = re.compile(r'"""[\s\S]*?"""|"(?:\\.|[^"\\\n])*"|#[^\n]*')


@dataclass(frozen=True)
class Mutant:
    """One change: characters `start` to `end` of `file` become `new`. `area` is what it is counted under."""

    area: str
    file: str
    place: str
    kind: str
    number: int
    old: str
    new: str
    start: int
    end: int

    @property
    def name(self) -> str:
        """The whole place in one line, the same from run to run."""
        return f"{self.file} | {self.place} | {self.kind} {self.number} | {self.old} -> {self.new}"


def moved(text: str, key: str = "") -> str:
    """Another number written like this one: a temperature 15 K higher, anything else a tenth larger."""
    value = float(text)
    if "." not in text and "e" not in text:
        whole = int(text)
        return str(whole + (15 if key.endswith("_c") else max(1, round(abs(whole) * 0.1))))
    if key.endswith("_c"):
        return repr(value + 15.0)
    return repr(0.1 if value == 0.0 else float(f"{value * 1.1:.6g}"))


class _Source:
    """A module, with the characters that each node stands on."""

    def __init__(self, text: str) -> None:
        self.text = text
        self.bytes_before = [0]
        for line in text.encode().splitlines(keepends=True):
            self.bytes_before.append(self.bytes_before[-1] + len(line))

    def span(self, node: ast.expr) -> tuple[int, int]:
        """First and last character of a node, counted in characters of the file."""
        raw = self.text.encode()
        assert node.end_lineno is not None and node.end_col_offset is not None
        first = self.bytes_before[node.lineno - 1] + node.col_offset
        last = self.bytes_before[node.end_lineno - 1] + node.end_col_offset
        return len(raw[:first].decode()), len(raw[:last].decode())


def _left_out(node: ast.AST) -> bool:
    return isinstance(node, ast.Raise | ast.JoinedStr) or (
        isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"
    )


def _walk(node: ast.AST, place: str) -> Iterator[tuple[ast.AST, str]]:
    """Every node that may be changed, with the name of the function or class around it."""
    if _left_out(node):
        return
    yield node, place
    inner = place
    if isinstance(node, ast.FunctionDef | ast.ClassDef):
        inner = node.name if place == "module" else f"{place}.{node.name}"
    for field, value in ast.iter_fields(node):
        if field in {"decorator_list", "annotation", "returns"}:
            continue
        if isinstance(node, ast.Subscript) and field == "slice":
            continue
        for child in value if isinstance(value, list) else [value]:
            if isinstance(child, ast.AST):
                yield from _walk(child, inner)


def _changes(node: ast.AST, source: _Source, numbers_only: bool) -> Iterator[tuple[str, int, int, str]]:
    """Kind, first and last character, and new text, of what can be changed at this node."""
    if isinstance(node, ast.Constant) and type(node.value) in (int, float) and abs(node.value) >= SMALLEST:
        start, end = source.span(node)
        if not source.text[start:end].startswith("0x"):
            yield "number", start, end, moved(source.text[start:end].replace("_", ""))
    if numbers_only:
        return
    if isinstance(node, ast.Compare):
        left = node.left
        for operator, right in zip(node.ops, node.comparators, strict=True):
            old, new = TURNED[type(operator)]
            start, end = source.span(left)[1], source.span(right)[0]
            at = source.text.find(old, start, end)
            if at >= 0:
                yield "comparison", at, at + len(old), new
            left = right
    if isinstance(node, ast.BoolOp):
        old, new = ("and", "or") if isinstance(node.op, ast.And) else ("or", "and")
        between = (source.span(node.values[0])[1], source.span(node.values[1])[0])
        found = re.search(rf"\b{old}\b", source.text[between[0] : between[1]])
        if found is not None:
            yield "and/or", between[0] + found.start(), between[0] + found.end(), new
    if isinstance(node, ast.If | ast.IfExp) and not isinstance(node.test, ast.Compare | ast.BoolOp):
        start, end = source.span(node.test)
        yield "branch", start, end, f"(not ({source.text[start:end]}))"


def code_mutants(path: Path, area: str, numbers_only: bool) -> list[Mutant]:
    """All changes of one module, in the order of the file."""
    source = _Source(path.read_text(encoding="utf-8"))
    seen: Counter[tuple[str, str]] = Counter()
    made = []
    for node, place in _walk(ast.parse(source.text), "module"):
        for kind, start, end, new in _changes(node, source, numbers_only):
            seen[place, kind] += 1
            file = path.relative_to(ROOT).as_posix()
            old = source.text[start:end]
            made.append(Mutant(area, file, place, kind, seen[place, kind], old, new, start, end))
    return made


def data_mutants(path: Path, area: str) -> list[Mutant]:
    """All changed numbers of one data file; `place` is the table and the key."""
    text = path.read_text(encoding="utf-8")
    bare = STRINGS.sub(lambda found: " " * len(found.group()), text)
    file = path.relative_to(ROOT).as_posix()
    seen: Counter[str] = Counter()
    counted: Counter[str] = Counter()
    table, key, made, at = "", "", [], 0
    for line in bare.splitlines(keepends=True):
        head = re.match(r"\[+([\w.]+)\]+\s*$", line)
        if head is not None:
            table = head.group(1)
            seen[table] += 1
        else:
            named = re.match(r"([\w.]+)\s*=", line)
            key = named.group(1) if named is not None else key
            start = named.end() if named is not None else 0
            place = f"{table}#{seen[table]}.{key}" if table else key
            for found in NUMBER.finditer(line, start):
                counted[place] += 1
                old, first, last = found.group(), at + found.start(), at + found.end()
                if abs(float(old)) >= SMALLEST or float(old) == 0.0:
                    made.append(
                        Mutant(area, file, place, "number", counted[place], old, moved(old, key), first, last)
                    )
        at += len(line)
    return made


def _working_rows(mutants: list[Mutant], path: Path) -> list[Mutant]:
    """Of the hardening ranges, the rows that are worked with: those that say why."""
    tables = re.split(r"(?m)^(?=\[\[)", path.read_text(encoding="utf-8"))
    seen: Counter[str] = Counter()
    working = set()
    for table in tables:
        if (head := re.match(r"\[\[([\w.]+)\]\]", table)) is not None:
            seen[head.group(1)] += 1
            if re.search(r"(?m)^why = ", table):
                working.add(f"{head.group(1)}#{seen[head.group(1)]}")
    return [m for m in mutants if m.place.rsplit(".", 1)[0] in working]


def all_mutants() -> list[Mutant]:
    """Every change of the tree, always in the same order."""
    made = []
    for path in sorted((ROOT / "billet" / "formulas").rglob("*.py")):
        if path.name == BEGINNING:
            continue
        made += code_mutants(path, "formulas", numbers_only=True)
    for name in RULES_DATA:
        made += data_mutants(ROOT / "billet" / "data" / name, "data")
    for path in sorted((ROOT / "billet" / "data").glob("hardening_*.toml")):
        made += _working_rows(data_mutants(path, "data"), path)
    for room in RULE_ROOMS:
        for path in sorted((ROOT / "billet" / room).rglob("*.py")):
            made += code_mutants(path, room, numbers_only=False)
    return made
