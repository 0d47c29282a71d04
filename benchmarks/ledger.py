"""How fast the studies answer on the demo: ledger with and without remedies, delays, one flight.

    python benchmarks/ledger.py

Processor time, of both cores together: on a shared machine it tells more than the clock, which is
half of it at best on two. The floor of a ledger is its flights and motions after ejection alone,
counted, times what one of each takes here: no row, no driver, no word. A process of its own is
timed by the clock, too: to its first line (on stderr, what is being done) and to its end.
"""

import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

from measure import anew, best_s, line

from goodflight.project import load
from goodflight.project.demo import write_demo
from goodflight.studies.case.project_case import case_of
from goodflight.studies.questions.delay import delay_of
from goodflight.studies.questions.fly import nominal_of
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.rows import parting
from goodflight.studies.sampling import flights
from goodflight.studies.sampling.flights import fly_trials

FLIGHTS = 2000
RUNS = 3


@contextmanager
def seen(module: Any, name: str, place: int = 0) -> Iterator[list[Any]]:
    """What a function of a module is asked for meanwhile: one argument, one row an answer."""
    real, asked = getattr(module, name), list[Any]()

    def asking(*given: Any) -> Any:
        asked.append(given[place])
        return real(*given)

    setattr(module, name, asking)
    try:
        yield asked
    finally:
        setattr(module, name, real)


def spent_s(work: Callable[[], object]) -> float:
    """Processor time, the least of several runs, in s."""
    return best_s(work, RUNS, time.process_time)


def against_floor(words: str, flight_s: float, answer: Callable[[], object]) -> None:
    """Time of a ledger, beside what its flights and motions alone take."""
    with seen(flights, "fly_ensemble", 1) as flown, seen(parting, "part_bodies") as moved:
        answer()
    counts = [sum(len(rows) for rows in asked) for asked in (flown, moved)]
    motions = max(moved, key=len)
    each = spent_s(lambda: parting.part_bodies(motions)) / len(motions)
    floor = counts[0] * flight_s + counts[1] * each
    took = spent_s(answer)
    line(words, took, f"x {took / floor:.1f} of the floor of {floor:.2f} s")
    print(f"    {counts[0]} flights, {counts[1]} motions after ejection")


def fresh_process(folder: Path) -> tuple[float, float, float]:
    """`goodflight ledger` in a process of its own: wall time to its first line and to its end, and
    processor time, the least of several runs each, in s."""
    environment = {k: v for k, v in os.environ.items() if k != "PYTHONDONTWRITEBYTECODE"}
    found = []
    for _ in range(RUNS + 1):  # the first one may compile modules
        before, start = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
        with subprocess.Popen(
            [sys.executable, "-m", "goodflight", "ledger", str(folder)],
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            env=environment,
        ) as process:
            assert process.stderr is not None
            process.stderr.readline()
            first = time.perf_counter() - start
        whole, after = time.perf_counter() - start, resource.getrusage(resource.RUSAGE_CHILDREN)
        used = after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime
        found.append((first, whole, used))
    first, whole, used = map(min, zip(*found))
    return first, whole, used


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        write_demo(Path(folder) / "demo")
        project = load(Path(folder) / "demo")
        ledger_of(case_of(project), 50, 1)
        first, whole, used = fresh_process(Path(folder) / "demo")
    line("`ledger` in a process of its own, first line, wall", first, "aim 1 s")
    line("the same, whole, wall", whole, "aim 1.5 s on two free cores")
    line("the same, processor", used)
    line("project to case, with the effects of lengths", spent_s(lambda: case_of(replace(project))))
    case = case_of(project)
    flown = spent_s(anew(lambda: fly_trials(case, FLIGHTS, 1)))
    line(f"{FLIGHTS} flights alone", flown)
    for words, remedies in (("rows and drivers", False), ("every lever solved, the way", True)):
        answer = anew(partial(ledger_of, case, FLIGHTS, 1, remedies))
        against_floor(f"ledger, {words}", flown / FLIGHTS, answer)
    line("delays, 1000 flights each", spent_s(anew(lambda: delay_of(case, 1000, 1))))
    line("one nominal flight", spent_s(lambda: nominal_of(case)))


if __name__ == "__main__":
    main()
