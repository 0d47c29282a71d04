"""How the flights that fail in a row are spoken of: what they have in common, which they are."""

from typing import Final

from goodflight.outputs.figures import figure
from goodflight.studies.results import Failing, FlownDraw, Trait

DRAWS: Final = {
    "worst": "the worst",
    "middle": "the middle one",
    "just": "the one that only just fails",
    "near": "the nearest miss",
}


def trait_words(trait: Trait, units: str = "metric") -> str:
    """`wind: 5.1 m/s on average, the others 3.4 m/s`."""
    if trait.dimension == "either way":
        return (
            f"{trait.label}: {trait.failing:.1f} spreads from the middle on average, either way, "
            f"the others {trait.standing:.1f}"
        )
    first, last = (_side(trait, value, units) for value in (trait.failing, trait.standing))
    return f"{trait.label}: {first} on average, the others {last}"


def _side(trait: Trait, value: float, units: str) -> str:
    if trait.dimension == "share":
        return _off(f"{100 * abs(value):.0f} %", value, abs(value) < 0.005)
    if trait.dimension == "spreads":
        return _off(f"{abs(value):.1f} spreads", value, abs(value) < 0.05)
    if trait.dimension == "ratio":
        return f"{value:.3g}"
    return figure(value, trait.dimension, units)


def _off(size: str, value: float, middle: bool) -> str:
    if middle:
        return "in the middle"
    return f"{size} {'above' if value > 0 else 'below'} the middle"


def draw_words(draw: FlownDraw) -> str:
    """`the worst: flight 1204`."""
    return f"{DRAWS[draw.which]}: flight {draw.number}"


def heading(failing: Failing) -> str:
    """Flights that fail, or the one that comes nearest when none does."""
    fails = any(draw.which != "near" for draw in failing.draws)
    return "The flights that fail" if fails or failing.traits else "The flight that comes nearest"
