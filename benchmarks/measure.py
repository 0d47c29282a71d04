"""Timing shared by the benchmarks: best of several runs of the same work in one process."""

import time
from collections.abc import Callable

from goodflight.studies.rows.parting import MOTIONS
from goodflight.studies.rows.reach import FALLS
from goodflight.studies.sampling import drawn
from goodflight.studies.sampling.flights import FLIGHTS


def best_s(
    work: Callable[[], object], runs: int = 5, clock: Callable[[], float] = time.perf_counter
) -> float:
    """Least time of several runs, in s. Machines are shared: the least is the cleanest.

    Wall time, or with `time.thread_time` this thread's time on its processor.
    """
    times = []
    for _ in range(runs):
        start = clock()
        work()
        times.append(clock() - start)
    return min(times)


def line(what: str, seconds: float, note: str = "") -> None:
    """Print one figure."""
    print(f"{what:<58} {seconds * 1e3:10.1f} ms  {note}")


def anew(answer: Callable[[], object]) -> Callable[[], object]:
    """An answer for which no flight is remembered, nothing drawn."""

    def asked() -> object:
        FLIGHTS.forget()
        MOTIONS.forget()
        FALLS.forget()
        drawn._kept_scored.cache_clear()
        return answer()

    return asked
