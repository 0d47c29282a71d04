"""How fast the studies answer on the demo: ledger with and without remedies, delays, one flight.

    python benchmarks/ledger.py

The floor of a ledger is its flights and motions after ejection alone, counted, times what one of
each takes here: no row, no driver, no word.
"""

import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
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
def seen(module: Any, name: str) -> Iterator[list[Any]]:
    """What a function of a module is asked for meanwhile: its first argument, one row an answer."""
    real, asked = getattr(module, name), list[Any]()

    def asking(rows: Any, *others: Any, **named: Any) -> Any:
        asked.append(rows)
        return real(rows, *others, **named)

    setattr(module, name, asking)
    try:
        yield asked
    finally:
        setattr(module, name, real)


def against_floor(words: str, flight_s: float, answer: Callable[[], object]) -> None:
    """Time of a ledger, beside what its flights and motions alone take."""
    with seen(flights, "fly_ensemble") as flown, seen(parting, "part_bodies") as moved:
        answer()
    counts = [sum(len(rows) for rows in asked) for asked in (flown, moved)]
    motions = max(moved, key=len)
    each = best_s(lambda: parting.part_bodies(motions), RUNS) / len(motions)
    floor = counts[0] * flight_s + counts[1] * each
    took = best_s(answer, RUNS)
    line(words, took, f"x {took / floor:.1f} of the floor of {floor:.2f} s")
    print(f"    {counts[0]} flights, {counts[1]} motions after ejection")


def main() -> None:
    with tempfile.TemporaryDirectory() as folder:
        write_demo(Path(folder) / "demo")
        project = load(Path(folder) / "demo")
    ledger_of(case_of(project), 50, 1)
    line("project to case, with the effects of lengths", best_s(lambda: case_of(project), RUNS))
    case = case_of(project)
    flown = best_s(anew(lambda: fly_trials(case, FLIGHTS, 1)), RUNS)
    line(f"{FLIGHTS} flights alone", flown)
    for words, remedies in (("rows and drivers", False), ("every lever solved, the way", True)):
        answer = anew(partial(ledger_of, case, FLIGHTS, 1, remedies))
        against_floor(f"ledger, {words}", flown / FLIGHTS, answer)
    line("delays, 1000 flights each", best_s(anew(lambda: delay_of(case, 1000, 1)), RUNS))
    line("one nominal flight", best_s(lambda: nominal_of(case), RUNS))


if __name__ == "__main__":
    main()
