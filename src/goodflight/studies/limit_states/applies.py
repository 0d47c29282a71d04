"""A row that does not concern this rocket: it says why, and no draw fails in it."""

import numpy as np

from goodflight.studies.limit_states.model import Array, Evaluation, View, full

NOT_HERE = "not here"


def not_here(view: View, why: str) -> Evaluation:
    """Figures for a way to fail that this rocket does not have."""
    nobody = np.zeros(view.count, dtype=bool)
    return Evaluation(full(view, 0.0), full(view, 1.0), nobody, warnings=(f"{NOT_HERE}: {why}",))


def point(values: Array, percent: float) -> float:
    """A percentile of the finite values; nan when there are none."""
    known = values[np.isfinite(values)]
    return float(np.percentile(known, percent)) if known.size else float("nan")
