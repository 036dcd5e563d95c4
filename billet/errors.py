"""What can go wrong, as one tree.

BilletError                  everything this package raises on purpose
 |- OutOfDomain              a number that cannot exist (a negative length, 0 K)
 |- RecipeError              a recipe that is refused; holds up to 20 faults, each with its place
 |- SteelError
     |- UnknownSteel         no such designation; holds the nearest names
     |- AmbiguousSteel       a name that several grades bear; holds them
ToolFault                    this package has failed at a recipe that may be sound; no BilletError
"""

from dataclasses import dataclass


class BilletError(ValueError):
    """Base of every error raised on purpose; its text may be shown to the user."""


class ToolFault(RuntimeError):
    """A computation that broke a law it must keep: a fault of this tool, never of the recipe.

    `law` says in plain words what was broken. The text may be shown to the user.
    """

    def __init__(self, law: str) -> None:
        super().__init__(f"this is a fault of the tool, not of your recipe: {law}; no figure is given")
        self.law = law


class OutOfDomain(BilletError):
    """A quantity that cannot exist."""

    def __init__(self, name: str, value: object, rule: str) -> None:
        super().__init__(f"{name} must be {rule}, got {value}")
        self.name, self.value, self.rule = name, value, rule


@dataclass(frozen=True)
class Fault:
    """One thing wrong in a recipe: where (`steps[3].height_mm`, zero-based) and a readable sentence."""

    where: str
    message: str


class RecipeError(BilletError):
    """A recipe that is refused."""

    def __init__(self, faults: list[Fault]) -> None:
        first = faults[0]
        more = len(faults) - 1
        tail = "" if not more else f" (and {more} more fault{'s' if more > 1 else ''})"
        super().__init__(f"{first.where}: {first.message}{tail}" if first.where else first.message + tail)
        self.faults = tuple(faults)


class SteelError(BilletError):
    """A steel that cannot be found in the library."""


class UnknownSteel(SteelError):
    """No grade bears this name or number."""

    def __init__(self, name: str, nearest: tuple[str, ...], instead: str = "") -> None:
        """`instead` says what may be written for a name that no grade can bear."""
        hint = f"; did you mean {', '.join(nearest)}?" if nearest else ""
        hint = f": {instead}" if instead else hint
        super().__init__(f"no steel called {name!r} in the library{hint}")
        self.name, self.nearest = name, nearest


class AmbiguousSteel(SteelError):
    """Several grades bear this name."""

    def __init__(self, name: str, candidates: tuple[str, ...]) -> None:
        super().__init__(f"{name!r} may be any of {', '.join(candidates)}; name one of them")
        self.name, self.candidates = name, candidates
