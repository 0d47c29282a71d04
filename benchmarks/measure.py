"""Timing shared by the benchmarks: best of several runs of the same work in one process."""

import time
from collections.abc import Callable


def best_s(work: Callable[[], object], runs: int = 5) -> float:
    """Least wall time of several runs, in s. Machines are shared: the least is the cleanest."""
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def line(what: str, seconds: float, note: str = "") -> None:
    """Print one figure."""
    print(f"{what:<58} {seconds * 1e3:10.1f} ms  {note}")
