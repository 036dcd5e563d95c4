"""Runs one command, and tells in words whatever stops it."""

import os
import sys
from collections.abc import Sequence

from billet.cli.arguments import parse
from billet.cli.writing import Answer, OutputFailed, write
from billet.errors import BilletError, Fault, RecipeError

REFUSED, NOT_WRITTEN, BROKEN_OFF = 2, 1, 130


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command. Returns the exit code; every fault is told on standard error, without traceback."""
    try:
        return _run(arguments)
    except KeyboardInterrupt:
        _drop_output()
        return BROKEN_OFF


def _run(arguments: Sequence[str] | None) -> int:
    try:
        chosen = parse(arguments)
        answer: Answer = chosen.run(chosen)
    except RecipeError as error:
        return _refused(str(error), error.faults[1:])
    except BilletError as error:
        return _refused(str(error))
    except MemoryError:
        return _refused("this is more than the memory of this machine holds")
    try:
        write(answer)
    except OutputFailed as failed:
        _tell(f"billet: {failed}\n")
        _drop_output()
        return NOT_WRITTEN
    return 0


def _refused(message: str, more: Sequence[Fault] = ()) -> int:
    """The first fault in one line, as everywhere; the others below it, a line each."""
    lines = [f"billet: {_one_line(message)}"]
    lines += [f"  {fault.where}: {fault.message}" if fault.where else f"  {fault.message}" for fault in more]
    _tell("\n".join(lines) + "\n")
    return REFUSED


def _one_line(message: str) -> str:
    return " ".join(message.split("\n"))


def _tell(text: str) -> None:
    """To standard error, where that is open."""
    if sys.stderr is None:
        return
    try:
        sys.stderr.write(text)
        sys.stderr.flush()
    except (OSError, ValueError):
        return


def _drop_output() -> None:
    """What is still held back goes nowhere, so that leaving the program does not fail again."""
    try:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)
    except (OSError, ValueError, AttributeError):
        return
