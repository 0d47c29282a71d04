"""Compiled work on every core: threads, because compiled code holds none of them up."""

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

_SHARES = 4  # of each core, so that a slower core is given less


def on_cores(work: Callable[[int, int], None], count: int, least: int) -> None:
    """Do `work(first, end)` for shares of `count` things, each by itself, side by side.

    No share is smaller than `least` things; what is not worth two threads is done in this one.
    """
    workers = min(os.cpu_count() or 1, count // least)
    if workers < 2:
        work(0, count)
        return
    shares = workers * min(_SHARES, count // (least * workers))
    ends = [count * i // shares for i in range(shares + 1)]
    with ThreadPoolExecutor(workers) as pool:
        tuple(pool.map(work, ends[:-1], ends[1:]))
