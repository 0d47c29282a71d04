"""Where a row applies: on which flights, or not to this rocket at all, and then it says why."""

import numpy as np

from goodflight.physics.flight.registry import COMPLETE
from goodflight.studies.rows.model import Array, Evaluation, Mask, View, full


def not_here(view: View, why: str) -> Evaluation:
    """A way to fail that this rocket does not have: no flight can, and there are no figures."""
    nothing, nobody = full(view, np.nan), np.zeros(view.count, dtype=bool)
    return Evaluation(nothing, nothing, nobody, warnings=(f"not here: {why}",), not_here=why)


def came_down_open(view: View) -> Mask:
    """Flights that came down under a canopy; the others count in `nothing_opens`."""
    complete = view.outcome("status") == COMPLETE
    return np.asarray(complete) & np.isfinite(view.outcome("descent_m_s"))


def point(values: Array, percent: float) -> float:
    """A percentile of the finite values; nan when there are none."""
    known = values[np.isfinite(values)]
    return float(np.percentile(known, percent)) if known.size else float("nan")
