"""What the total becomes as what is not known turns out one way or another.

Every uncertain quantity says whether its spread is missing knowledge or chance from flight to
flight. Held at one set of the unknown figures, chance alone gives a total; over all sets it gives
an interval, and with every guess at its middle the part of the total that rests on none. Flying
some hundred flights for each set would take minutes. Here each row's reserve is split into a
polynomial of the unknown figures and what chance adds to it; every set meets the chance of many
flights; and the totals are made to agree with the flights themselves.
Left out: figures nobody gave a spread; rows that are not known.
Main sources: nested simulation of knowledge and chance, Helton 1994 (idea); totals that agree,
Kull et al. 2017; docs/decisions/012.
"""

from collections.abc import Sequence
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.scoring import agreed
from goodflight.studies.judging.evaluate import FAILURE, Evaluated, any_failing, evaluate
from goodflight.studies.judging.parted import Powers, parts_of_rows
from goodflight.studies.results import Knowledge
from goodflight.studies.rows import View
from goodflight.studies.sampling.flights import fly_sample
from goodflight.studies.sampling.quantity import KNOWLEDGE
from goodflight.studies.sampling.trials import assemble

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

ENDS: Final = (0.10, 0.90)  # of the sets of unknown figures: 8 of 10 lie between
FEWEST: Final = 400  # flights; fewer tell knowledge and chance not apart
CHANCES: Final = 250  # flights whose chance every set meets
FLOWN: Final = 400  # flights flown again with every guess at its middle


def knowledge_of(view: View, rows: Sequence[Evaluated]) -> Knowledge | None:
    """The interval of the total over what is not known, and the part that rests on guesses.

    Parameters
        view : View - flown flights. [-]
        rows : sequence of Evaluated - every row on them. [-]
    Returns
        knowledge : Knowledge or None - None with too few flights, or where nothing is guessed. [-]
    Raises
        nothing
    Validity
        Against nested flights of the demo's plans: ends within about 5 in 100, see the test. A row
        whose reserve is no smooth function of the figures counts in part as chance.
    Source
        Two loops, knowledge outside and chance inside: [helton1994]; totals that agree: [kull2017].
    """
    factors = view.trials.factors
    unknown = np.array([factor.of.nature == KNOWLEDGE for factor in factors])
    guessed = np.array([factor.guessed for factor in factors])
    failing = any_failing(rows)
    total = float(failing.mean())
    if view.count < FEWEST or not guessed.any():
        return None
    split = Split(view, rows, unknown)
    low, high = np.quantile(corrected(split.totals(view.trials.z), failing), ENDS)
    middles = np.where(guessed, 0.0, view.trials.z)
    frozen = _frozen(view, split, middles)
    share = min(1.0, max(0.0, 1.0 - frozen / total)) if total > 0.0 else 0.0
    return Knowledge(float(min(low, total)), float(max(high, total)), frozen, share)


class Split:
    """The failures of the flight, each as what the unknown figures make of it, and chance."""

    def __init__(self, view: View, rows: Sequence[Evaluated], unknown: Mask) -> None:
        self.columns = unknown
        powers = Powers(view.trials.z[:, unknown])
        failures = [row for row in rows if row.limit.kind in FAILURE and row.failing.any()]
        parted = parts_of_rows(failures, powers)
        self.parts = [part for part in parted if part is not None]
        whole = [row.failing for row, part in zip(failures, parted) if part is None]
        self.whole: Mask = np.any(whole, axis=0) if whole else np.zeros(view.count, dtype=bool)

    def totals(self, scores: Array) -> Array:
        """Chance of any failure with the unknown figures of each flight, (n,), before correction.

        Every set of figures meets the chance of the same flights, so rows that fail together do.
        """
        taken = slice(0, min(CHANCES, self.whole.size))
        fails = np.broadcast_to(self.whole[taken], (len(scores), self.whole[taken].size)).copy()
        for part in self.parts:
            fails |= part.of(scores[:, self.columns])[:, None] < -part.chance[taken]
        found: Array = fails.mean(axis=1)
        return found

    def failing(self, scores: Array) -> Mask:
        """Flights that fail with these scores and their own chance, (n,)."""
        fails = self.whole.copy()
        for part in self.parts:
            fails |= part.failing(scores[:, self.columns])
        return fails


def corrected(totals: Array, failing: Mask) -> Array:
    """Totals that agree with the flights: of like total as many fail as it says, (n,)."""
    return agreed(totals, failing, 0.5 / min(CHANCES, totals.size))


def _frozen(view: View, split: Split, middles: Array) -> float:
    """Chance of any failure with these scores: by the split, corrected by some that are flown."""
    taken = slice(0, min(FLOWN, view.count))
    trials = view.trials
    sample = assemble(view.case, trials.factors, middles[taken], trials.seeds[taken])
    flown = any_failing(evaluate(fly_sample(view.case, sample)))
    told = split.failing(middles)
    off = float(flown.mean()) - float(told[taken].mean())
    return min(1.0, max(0.0, float(told.mean()) + off))
