"""A row that is not applicable to this rocket: it says why, and no flight fails in it."""

import numpy as np

from goodflight.studies.rows.model import Array, Evaluation, View, full


def not_here(view: View, why: str) -> Evaluation:
    """A way to fail that this rocket does not have: no flight can, and there are no figures."""
    nothing, nobody = full(view, np.nan), np.zeros(view.count, dtype=bool)
    return Evaluation(nothing, nothing, nobody, warnings=(f"not here: {why}",), not_here=why)


def point(values: Array, percent: float) -> float:
    """A percentile of the finite values; nan when there are none."""
    known = values[np.isfinite(values)]
    return float(np.percentile(known, percent)) if known.size else float("nan")
