"""The drawings of a sheet as plain lines: a pile, the marks of a cut, ranges on an axis."""

from billet.contract.values import Range
from billet.sheets.drawn import Course, CutFigure, Figure, StackFigure, WindowFigure

MOST_COURSES = 16
ROOM = 14


def figure_lines(figure: Figure, width: int) -> list[str]:
    """The drawing in letters of one width, no wider than the page; nothing where words say as much."""
    if isinstance(figure, StackFigure):
        return _stack(figure)
    if isinstance(figure, CutFigure):
        return _ruler(figure, width)
    if isinstance(figure, WindowFigure):
        return _windows(figure, width)
    return []


def _stack(figure: StackFigure) -> list[str]:
    """The pile from the top down, a line a plate or piece; runs of a tall pile together."""
    courses = [(_named(course), course.thickness_mm) for course in reversed(figure.courses)]
    if len(courses) > MOST_COURSES:
        return []
    wide = max((len(name) for name, _ in courses), default=0)
    edge = f"+{'-' * (wide + ROOM)}+"
    lines = [edge]
    for name, mm in courses:
        lines.append(f"| {name:<{wide}} {mm:>{ROOM - 6}.1f} mm |")
    return [*lines, edge]


def _named(course: Course) -> str:
    if not course.piece:
        return " ".join(name for name, _ in course.layers)
    return "piece, turned over" if course.turned else "piece"


def _ruler(figure: CutFigure, width: int) -> list[str]:
    """The bar from the handle end, its marks numbered, the saw's strips as x."""
    room = min(width, 90) - 2
    line = ["-"] * room
    numbers = [" "] * room
    at = [min(int(mm / figure.length_mm * room), room - 1) for mm in figure.marks_mm]
    for start, end in figure.kerfs_mm:
        middle = int((start + end) / 2 / figure.length_mm * room)
        line[min(middle, room - 1)] = "x"
    for number, place in enumerate(at, start=1):
        line[place] = "|"
        numbers[place] = str(number % 10)
    return ["handle end", f"[{''.join(line)}]", f" {''.join(numbers)}"]


def _windows(figure: WindowFigure, width: int) -> list[str]:
    """Each steel's possible range as dots and its good range as a double line, this fire below."""
    pairs = [pair for steel in figure.steels for pair in (steel.good_c, steel.possible_c) if pair]
    fire = _fire(figure)
    pairs += [fire] if fire else []
    low, high = min(a for a, _ in pairs), max(b for _, b in pairs)
    names = [steel.name for steel in figure.steels] + ["your fire", "set point"]
    wide = max(map(len, names))
    room = min(width, 96) - wide - 2

    def place(celsius: float) -> int:
        return round((celsius - low) / max(high - low, 1.0) * (room - 1))

    lines = []
    for steel in figure.steels:
        drawn = [" "] * room
        for pair, letter in ((steel.possible_c, "."), (steel.good_c, "=")):
            if pair:
                first, last = place(pair[0]), place(pair[1])
                drawn[first : last + 1] = letter * (last - first + 1)
        lines.append(f"{steel.name:<{wide}}  {''.join(drawn)}")
    if fire:
        drawn = [" "] * room
        first, last = place(fire[0]), place(fire[1])
        drawn[first : last + 1] = f"<{'-' * max(last - first - 1, 0)}>"[: last - first + 1]
        lines.append(f"{'your fire':<{wide}}  {''.join(drawn)}")
    if figure.set_point_c is not None:
        lines.append(f"{'set point':<{wide}}  {' ' * place(figure.set_point_c)}^")
    return lines


def _fire(figure: WindowFigure) -> Range | None:
    if figure.set_point_c is None or figure.half_width_k is None:
        return None
    return figure.set_point_c - figure.half_width_k, figure.set_point_c + figure.half_width_k
