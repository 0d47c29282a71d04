"""The part of a row that is counted on its flights: state, chance with its bounds, margin."""

from typing import Any

from goodflight.studies.judging.chance import reliability_index, state_of, wilson
from goodflight.studies.judging.evaluate import Evaluated


def counted(row: Evaluated, flights: int, margins: bool = True) -> dict[str, Any]:
    """The part of a ledger row that comes from its flights: state, chance, margin, clouds.

    margins : False leaves the margin out; then no row is called marginal for being close.
    """
    failed = int(row.failing.sum())
    found = wilson(failed, flights) if row.known else None
    margin = reliability_index(row.metric, failed) if row.known and margins else None
    state = state_of(found.chance if found else None, margin, row.valid)
    if row.limit.thumb and state == "fails":
        state = "marginal"  # what happens beyond it is judged by other rows
    return {
        "state": state,
        "chance": found.chance if found else None,
        "low": found.low if found else None,
        "high": found.high if found else None,
        "failed": failed,
        "flights": flights,
        "margin": margin,
        "demand": row.demand,
        "capacity": row.capacity,
        "warnings": row.warnings,
        "advice": row.missing,
        "asks": row.asks,
    }
