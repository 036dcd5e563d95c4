"""`python -m tests.mutants --sample` tries the fixed sample, `--all` every change; see DEVELOPERS.md."""

import argparse
import os
import queue
import random
import sys
import threading
import time
from collections import Counter
from collections.abc import Callable, Iterable
from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from dataclasses import dataclass

from tests.mutants.copies import FAILED, TIMED_OUT, Copy, copy_of_the_tree, failed_test
from tests.mutants.covered import PINS, Covered, covered, note_all
from tests.mutants.places import Mutant, all_mutants
from tests.mutants.sample import SHARES, Listed, drawn, keep, listed

LEAST_CAUGHT = 0.9
FIRST_FILES = 3
ONE_TEST_S = 120.0


@dataclass(frozen=True)
class Outcome:
    """What became of one change: the test that failed, "" where none did, "time" where it ran on."""

    mutant: Mutant
    caught_by: str

    @property
    def caught(self) -> bool:
        return self.caught_by not in {"", "time", "no test"}


def say(line: str) -> None:
    """Write a line at once."""
    sys.stdout.write(line + "\n")
    sys.stdout.flush()


def fails(copy: Copy, tests: list[str], seconds: float) -> str:
    """The test that fails, "" where all pass, "time" where they take too long."""
    code, words = copy.run(tests, seconds)
    if code in FAILED:
        return failed_test(words) or tests[0]
    return "time" if code == TIMED_OUT else "" if code == 0 else "no test"


def hunt(copy: Copy, mutant: Mutant, known: Covered, seconds: float, quick: bool) -> Outcome:
    """Run the tests that may enter the place, likeliest first, the pinned numbers where all others pass."""
    behaviour = known.tests_of(mutant)
    pins = [PINS] if mutant.file.endswith(".toml") else []
    with copy.changed(mutant):
        for some in (
            behaviour[:FIRST_FILES],
            pins if quick else behaviour[FIRST_FILES:],
            [] if quick else pins,
        ):
            found = fails(copy, some, seconds) if some else ""
            if found not in {"", "time"}:
                return Outcome(mutant, found)
    return Outcome(mutant, "")


def in_copies(
    mutants: Iterable[Mutant], workers: int, deed: Callable[[Copy, Mutant], Outcome], until: float
) -> list[Outcome]:
    """Do this with every change, in so many copies of the tree at once, and tell as it goes."""
    with ExitStack() as stack, ThreadPoolExecutor(workers) as pool:
        copies: queue.SimpleQueue[Copy] = queue.SimpleQueue()
        for _ in range(workers):
            copies.put(stack.enter_context(copy_of_the_tree()))

        def one(mutant: Mutant) -> Outcome | None:
            copy = copies.get()
            try:
                if time.monotonic() > until:
                    return None
                outcome = deed(copy, mutant)
            finally:
                copies.put(copy)
            word = f"caught by {outcome.caught_by}" if outcome.caught else f"SURVIVED {outcome.caught_by}"
            say(f"{mutant.area:9} | {mutant.name} | {word}")
            return outcome

        return [o for o in pool.map(one, mutants) if o is not None]


def told(outcomes: list[Outcome]) -> bool:
    """Say caught of all by area, and whether nine in ten outside hardening were caught."""
    all_of = Counter(o.mutant.area for o in outcomes)
    caught = Counter(o.mutant.area for o in outcomes if o.caught)
    pins = sum(o.caught_by.startswith(PINS) for o in outcomes)
    say("")
    for area in all_of:
        say(f"{area:9} {caught[area]} of {all_of[area]}")
    outside = [o for o in outcomes if o.mutant.area != "hardening"]
    share = sum(o.caught for o in outside) / max(1, len(outside))
    say(f"outside hardening {share:.1%} caught; by pinned numbers alone {pins}")
    return share >= LEAST_CAUGHT


def sample(workers: int) -> int:
    """Try the kept sample, each change with the test that is named for it."""
    by_name = {m.name: m for m in all_mutants()}
    rows = listed()
    wanted = sum(SHARES.values())
    if len(rows) < wanted:
        say(f"the sample is not complete, {len(rows)} of {wanted} are settled: go on with --draw")
    gone = [r.mutant for r in rows if r.mutant not in by_name]
    for name in gone:
        say(f"no longer in the tree: {name}")
    if len(gone) > len(rows) // 4:
        say("too many are gone: draw the sample anew with --draw")
        return 1
    named = {r.mutant: r.caught_by for r in rows}

    def deed(copy: Copy, mutant: Mutant) -> Outcome:
        test = named[mutant.name]
        if not test:
            return Outcome(mutant, "")
        with copy.changed(mutant):
            return Outcome(mutant, fails(copy, [test], ONE_TEST_S))

    return (
        0 if told(in_copies([by_name[n] for n in named if n in by_name], workers, deed, float("inf"))) else 1
    )


def draw(asked: argparse.Namespace, known: Covered) -> int:
    """Find the test for every change of the sample that has none yet, and keep each at once."""
    wanted = drawn(all_mutants())
    names = {m.name for m in wanted}
    rows = {r.mutant: r for r in listed() if r.mutant in names and r.caught_by}
    lock = threading.Lock()

    def deed(copy: Copy, mutant: Mutant) -> Outcome:
        found = hunt(copy, mutant, known, asked.seconds, asked.quick)
        with lock:
            if found.caught or not asked.quick:
                rows[mutant.name] = Listed(mutant.name, found.caught_by if found.caught else "")
                keep(rows.values())
        return found

    until = time.monotonic() + 60.0 * asked.minutes
    in_copies([m for m in wanted if m.name not in rows], asked.workers, deed, until)
    say(f"{len(rows)} of {len(wanted)} settled, {sum(bool(r.caught_by) for r in rows.values())} caught")
    return 0 if len(rows) == len(wanted) else 1


def main() -> int:
    """Read the arguments, try the changes, return 1 where too few were caught."""
    parser = argparse.ArgumentParser(prog="tests.mutants", description=__doc__)
    what = parser.add_mutually_exclusive_group(required=True)
    what.add_argument("--sample", action="store_true", help="the fixed sample, each with its named test")
    what.add_argument("--draw", action="store_true", help="draw the sample anew and find the test for each")
    what.add_argument("--all", action="store_true", help="every change, in an order shuffled by a fixed seed")
    what.add_argument("--map", action="store_true", help="only note which test files enter which functions")
    what.add_argument("--only", metavar="TEXT", help="the changes whose name holds this text")
    parser.add_argument("--area", help="only changes of this area")
    parser.add_argument("--minutes", type=float, default=600.0, help="begin no change after so long")
    parser.add_argument("--seconds", type=float, default=240.0, help="limit for one run of tests")
    parser.add_argument("--workers", type=int, default=min(4, os.cpu_count() or 1))
    parser.add_argument("--quick", action="store_true", help="only the likeliest test files and the pins")
    asked = parser.parse_args()
    if asked.sample:
        return sample(asked.workers)
    if asked.map:
        note_all(asked.workers, say)
        return 0
    known = covered()
    mutants = [m for m in all_mutants() if asked.area in {None, m.area} and (asked.only or "") in m.name]
    if asked.draw:
        return draw(asked, known)
    elif asked.all:
        random.Random(1).shuffle(mutants)
    until = time.monotonic() + 60.0 * asked.minutes
    found = in_copies(
        mutants, asked.workers, lambda c, m: hunt(c, m, known, asked.seconds, asked.quick), until
    )
    return 0 if told(found) else 1


if __name__ == "__main__":
    sys.exit(main())
