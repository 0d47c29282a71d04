"""Everything the answers look at: the flights of one plan, their rows, the rocket as weighed."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.bearings import distance_m
from goodflight.project import Project
from goodflight.studies.bench.labels import weighed_words
from goodflight.studies.case.planned import Case
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.questions.landings import Landings, landings_of
from goodflight.studies.questions.layout import Layout, layout_of
from goodflight.studies.questions.ledger import ledger_row
from goodflight.studies.questions.separation_window import SeparationStudy, window_of
from goodflight.studies.results import Row, State
from goodflight.studies.rows import View
from goodflight.studies.rows.applies import point
from goodflight.studies.sampling.flights import fly_trials

FEW: Final = 100  # flights on another rail, or with another delay
LANDED: Final = 300
MISSED_S: Final = 2.0  # by how much a delay may be off in the question about it
WORST: Final[tuple[State, ...]] = ("ok", "marginal", "unknown", "fails")


@dataclass(frozen=True)
class Band:
    """A figure over the flights: 5, 50 and 95 % of them."""

    low: float
    middle: float
    high: float


def band(values: NDArray[np.float64]) -> Band:
    """The middle and both ends of what the flights show; not a number without any."""
    return Band(*(point(values, share) for share in (5.0, 50.0, 95.0)))


@dataclass(frozen=True, eq=False)
class Seen:
    """One plan, flown."""

    project: Project
    case: Case
    view: View
    rows: Mapping[str, Row]
    not_here: frozenset[str]
    layout: Layout
    window: SeparationStudy
    seed: int

    def band(self, outcome: str) -> Band:
        """An outcome over the flights."""
        return band(self.view.outcome(outcome))

    def has(self, outcome: str) -> bool:
        """Whether most flights have it."""
        return bool(np.isfinite(self.view.outcome(outcome)).mean() > 0.5)

    def state_of(self, keys: tuple[str, ...]) -> State | None:
        """The worst of some rows; None where none of them is this rocket's."""
        found = [self.rows[key].state for key in keys if key in self.rows]
        return max(found, key=WORST.index) if found else None

    @property
    def weighed(self) -> bool:
        """Whether the whole rocket was weighed."""
        return self.case.uncertainty.weighed

    @property
    def balanced(self) -> bool:
        """Whether the whole rocket was balanced too."""
        rows = self.project.weighings.weighing
        return any(row.whole and row.balance is not None for row in rows)

    @property
    def when(self) -> str:
        """Of which weighing the figures are."""
        return weighed_words(self.project)

    def median(self, values: NDArray[np.float64]) -> float:
        """The middle of a figure over the flights."""
        return band(values).middle

    @property
    def away_m(self) -> NDArray[np.float64]:
        """Distance of each landing from the pad."""
        found = self.landings
        return np.asarray(distance_m(found.east_m, found.north_m))

    @cached_property
    def landings(self) -> Landings:
        """Where the flights come down, opened and not."""
        return landings_of(self.case, LANDED, max(self.view.count, LANDED), self.seed)

    def on_rail(self, length_m: float) -> Band:
        """Speed as the last guide leaves another rail."""
        other = replace(self.case, rail=replace(self.case.rail, length_m=length_m))
        return band(fly_trials(other, FEW, self.seed).outcome("rail_exit_m_s"))

    def with_delay(self, later_s: float) -> Band:
        """Air speed at ejection when the delay is longer by some seconds."""
        out = self.case.deployment.delay_out_s - later_s
        flown = fly_trials(self.case.with_delay_out(out), FEW, self.seed)
        return band(flown.outcome("ejection_m_s"))


def see(project: Project, case: Case, flights: int, seed: int) -> Seen:
    """Fly a plan and judge every row of it, without what changes would help."""
    view = fly_trials(case, flights, seed)
    judged = evaluate(view)
    rows = {x.limit.key: ledger_row(view, x, (), ()) for x in judged if not x.not_here}
    absent = frozenset(x.limit.key for x in judged if x.not_here)
    return Seen(
        project=project,
        case=case,
        view=view,
        rows=rows,
        not_here=absent,
        layout=layout_of(case),
        window=window_of(view, seed),
        seed=seed,
    )
