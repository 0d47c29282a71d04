"""One flight in words: what is odd about it, and which rows it fails by how much."""

from goodflight.outputs.figures import figure
from goodflight.quantity import show
from goodflight.studies.questions.one_flight import Failing, Oddity


def oddity_words(odd: Oddity, units: str = "metric") -> str:
    """How far a quantity lies from its middle, in the builder's units."""
    if odd.form == "share":
        return f"{abs(odd.figure) * 100:.0f} % {'more' if odd.figure > 0.0 else 'less'}"
    if odd.form == "spreads":
        return (
            f"{abs(odd.figure):.1f} spreads {'above' if odd.figure > 0.0 else 'below'} its middle"
        )
    if odd.form == "off":
        far = _shown(abs(odd.figure), odd.dimension, units)
        return f"{far} {'more' if odd.figure > 0.0 else 'less'} than its middle"
    now, middle = (_shown(v, odd.dimension, units) for v in (odd.figure, odd.middle))
    return f"{now}, where the middle is {middle}"


def beyond_words(odd: Oddity) -> str:
    """How rare that is."""
    rare = round(1.0 / max(1.0 - odd.beyond, 1e-4))
    return f"1 flight in {rare} lies as far out"


def failing_words(row: Failing, units: str = "metric") -> str:
    """By how much a flight fails a row; empty for a row that is met or not met."""
    if row.unit == "count":
        return ""
    demand = figure(row.demand, row.unit, units)
    if row.capacity == 0.0:
        return f"by {demand}"
    bound = "at most" if row.more_is_worse else "at least"
    return f"{demand}, where {bound} {figure(row.capacity, row.unit, units)} is allowed"


def _shown(value: float | None, dimension: str, units: str) -> str:
    if value is None:
        return ""
    if dimension == "ratio":
        return f"{value:.3g}"
    return show(value, dimension, units)
