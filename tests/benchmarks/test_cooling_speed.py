"""How long cooling takes to look up and to solve. Run by hand: pytest tests/benchmarks."""

import time
from collections.abc import Callable

from billet.formulas.heating import heating_through
from billet.formulas.plate_cooling import Film, Plate, cool_plates
from billet.tables.media import media
from billet.tables.plate_cooling import centre_rate_k_s, cooling_curve, hardens_to_mm


def best_of(function: Callable[[int], object], rounds: int) -> float:
    """Least seconds for a call; each call gets another number, so that nothing is remembered."""
    function(-1)
    times = []
    for i in range(rounds):
        begin = time.perf_counter()
        function(i)
        times.append(time.perf_counter() - begin)
    return min(times)


def test_rate_is_looked_up_in_a_tenth_of_a_millisecond() -> None:
    assert best_of(lambda i: centre_rate_k_s("hot oil", 3.0 + i / 500.0), 200) < 1e-4


def test_thickness_is_looked_up_in_a_tenth_of_a_millisecond() -> None:
    assert best_of(lambda i: hardens_to_mm("hot oil", 40.0 + i / 10.0), 200) < 1e-4


def test_curve_is_looked_up_in_a_tenth_of_a_millisecond() -> None:
    assert best_of(lambda i: cooling_curve("fast oil", 3.0 + i / 500.0), 200) < 1e-4


def test_heating_through_takes_under_two_milliseconds() -> None:
    assert best_of(lambda i: heating_through(20.0 + i / 100.0, 1150.0), 50) < 2e-3


def test_all_media_are_solved_in_under_half_a_second() -> None:
    def solve(i: int) -> object:
        films = [Film(m.film, m.film_bath_c, m.emissivity) for m in media()]
        return cool_plates([Plate(t + i / 100.0, f, 815.0, 530.0) for f in films for t in (2.0, 4.0)])

    assert best_of(solve, 3) < 0.5
