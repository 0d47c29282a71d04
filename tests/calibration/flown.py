"""A rocket's rows on its flights, and what a change does to them on the same flights."""

from dataclasses import dataclass
from functools import cache
from typing import Final

import numpy as np
from as_files import files_of
from built import Built

from goodflight.project import read_project
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.judging.evaluate import Evaluated, any_failing, evaluate
from goodflight.studies.sampling.flights import fly_trials

SEED: Final = 1
NOISE: Final = 3.0  # standard deviations: some 1800 rows are compared, 5 stray ones by chance


@dataclass(frozen=True, eq=False)
class Flown:
    """The evaluated rows of a rocket, by key; `total` is the mask of flights that fail."""

    case: Case
    rows: dict[str, Evaluated]
    total: np.ndarray

    @property
    def flights(self) -> int:
        """How many."""
        return len(self.total)

    def per_100(self, key: str) -> float:
        """Chance of a row."""
        return 100.0 * float(self.rows[key].failing.mean())

    def missing(self) -> list[str]:
        """Failure rows that are not known."""
        return [k for k, row in self.rows.items() if row.limit.kind == "failure" and row.missing]

    def reasons(self, at_least: float = 0.5) -> list[tuple[str, float]]:
        """Failure rows that carry the total, the greatest first, in 100."""
        found = [
            (key, self.per_100(key))
            for key, row in self.rows.items()
            if row.limit.kind == "failure"
        ]
        return sorted((f for f in found if f[1] >= at_least), key=lambda f: -f[1])


@cache
def flown(built: Built, flights: int) -> Flown:
    """Fly a rocket and evaluate every row; the same flights for the same declaration."""
    return case_flown(case_of(read_project(files_of(built))), flights)


def case_flown(case: Case, flights: int) -> Flown:
    """The same for a case."""
    evaluated = evaluate(fly_trials(case, flights, SEED))
    rows = {row.limit.key: row for row in evaluated if not row.not_here}
    return Flown(case, rows, any_failing(tuple(rows.values())))


def moved(before: Flown, after: Flown) -> dict[str, tuple[float, float]]:
    """Rows whose chance moved by more than paired noise, or that became unknown or known.

    Only flights that changed sides count (McNemar): b fail now and did not, c did and do not;
    by chance b - c has the standard deviation sqrt(b + c). Returns chances in 100 before, after.
    """
    found = {}
    for key in {**before.rows, **after.rows}:
        old, new = before.rows.get(key), after.rows.get(key)
        if old is None or new is None or bool(old.missing) != bool(new.missing):
            found[key] = (chance(before, key), chance(after, key))
            continue
        worse = int((new.failing & ~old.failing).sum())
        better = int((old.failing & ~new.failing).sum())
        if abs(worse - better) > NOISE * np.sqrt(worse + better):
            found[key] = (before.per_100(key), after.per_100(key))
    return found


def chance(found: Flown, key: str) -> float:
    """Chance of a row in 100; nan where it is unknown or not there."""
    row = found.rows.get(key)
    return float("nan") if row is None or row.missing else found.per_100(key)
