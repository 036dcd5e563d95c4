"""What is kept between plans is shared by threads."""

import threading
import time
from concurrent.futures import ThreadPoolExecutor

import numpy as np

from billet.composition import Composition
from billet.diffusion import equilibrium_tables
from billet.diffusion.activity_law import Table
from billet.diffusion.carbide_sink import tables_at
from billet.diffusion.profile import gather_metals
from billet.diffusion.table_store import TableStore

THREADS, ROUNDS = 4, 400


def in_threads(work):
    begun = threading.Barrier(THREADS)

    def run(number):
        begun.wait()
        return work(number)

    with ThreadPoolExecutor(THREADS) as pool:
        return [future.result() for future in [pool.submit(run, k) for k in range(THREADS)]]


def test_four_threads_with_different_melts_find_their_own_tables(monkeypatch):
    # The model itself is left out: what is tried is that a table is never lost between two threads.
    def made(wanted):
        time.sleep(2e-4)  # the model lets other threads run meanwhile
        return [Table(w.composition["C"], np.zeros(2), np.ones(2)) for w in wanted]

    monkeypatch.setattr(equilibrium_tables, "_computed", made)

    def many_melts(number):
        for k in range(ROUNDS):
            carbon = 0.3 + 0.1 * number + 1e-4 * (k % 150)
            metals = gather_metals(
                {"shared": Composition({"C": 0.8}), "own": Composition({"C": carbon})},
                {"shared": 7.85, "own": 7.85},
            )
            for tables in tables_at(metals, (700.0, 750.0, 800.0), 0.0, 1.2):
                assert tables[0].step == 0.8
                assert tables[1].step == carbon
        return True

    assert in_threads(many_melts) == [True] * THREADS


def test_the_store_never_holds_more_than_it_should_and_forgets_the_least_used():
    store: TableStore[int, int] = TableStore(3)
    asked = []

    def make(keys):
        asked.append(list(keys))
        return [10 * key for key in keys]

    assert store.many([1, 2, 3, 2], make) == [10, 20, 30, 20]
    assert store.many([1], make) == [10]
    assert store.many([4], make) == [40]
    assert store.many([1, 3, 2], make) == [10, 30, 20]
    assert asked == [[1, 2, 3], [4], [2]]
    assert len(store) == 3
    # More than it holds at once are still all answered.
    assert store.many(list(range(20)), make) == [10 * k for k in range(20)]
    assert len(store) == 3


def test_the_store_answers_four_threads_while_it_overflows():
    store: TableStore[int, int] = TableStore(8)

    def work(number):
        keys = np.random.default_rng(number).integers(0, 40, (ROUNDS * 5, 4))
        return all(
            store.many(list(row), lambda ks: [int(k) ** 2 for k in ks]) == [int(k) ** 2 for k in row]
            for row in keys
        )

    assert in_threads(work) == [True] * THREADS
    assert len(store) <= 8
