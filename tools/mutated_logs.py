"""Read a hundred thousand mutated logs: each is read or refused in words, none ends in a trace.

    PYTHONPATH=src:tests python tools/mutated_logs.py 100000 [first]

Each is also read within a time that no sound log needs; numbers of those that fail are printed.
"""

import sys
import time
import traceback
import warnings

from goodflight.project.logs.cells import LogRefused
from goodflight.project.logs.read import read_log
from mutations import mutated

SLOW_S = 2.0  # of processor: a sound log of this length takes 0.02


def main(count: int, first: int = 0) -> int:
    """Read them; the number of those that failed."""
    warnings.simplefilter("error")
    read = refused = failed = 0
    for number in range(first, first + count):
        began = time.process_time()
        try:
            read_log(mutated(number))
            read += 1
        except LogRefused:
            refused += 1
        except Exception:
            failed += 1
            print(f"number {number}:", traceback.format_exc(limit=-3), flush=True)
        if time.process_time() - began > SLOW_S:
            failed += 1
            print(f"number {number}: {time.process_time() - began:.1f} s", flush=True)
        if (number + 1) % 10_000 == 0:
            print(f"{number + 1}: {read} read, {refused} refused, {failed} failed", flush=True)
    print(f"{count} mutated logs: {read} read, {refused} refused, {failed} failed")
    return failed


if __name__ == "__main__":
    sys.exit(bool(main(*map(int, sys.argv[1:]))))
