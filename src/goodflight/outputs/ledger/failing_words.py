"""How the flights that fail in a row are spoken of: what they have in common, which they are."""

from typing import Final

from goodflight.outputs.figures import figure
from goodflight.studies.results import Failing, NumberedFlight, Trait

MIDDLE: Final = "in the middle"
NEAR: Final = 0.08  # of the greater distance: less is said as the middle
WHICH: Final = {
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
    middle = " the middle" if trait.off and first != MIDDLE else ""
    return f"{trait.label}: {first}{middle} on average, the others {last}"


def _side(trait: Trait, value: float, units: str) -> str:
    if not trait.off:
        return (
            f"{value:.3g}" if trait.dimension == "ratio" else figure(value, trait.dimension, units)
        )
    if abs(value) < NEAR * max(abs(trait.failing), abs(trait.standing)):
        return MIDDLE
    return f"{_size(trait, abs(value), units)} {'above' if value > 0.0 else 'below'}"


def _size(trait: Trait, value: float, units: str) -> str:
    if trait.dimension == "share":
        return f"{100 * value:.0f} %"
    if trait.dimension == "spreads":
        return f"{value:.1f} spreads"
    return figure(value, trait.dimension, units)


def flight_words(flight: NumberedFlight) -> str:
    """`the worst: flight 1204`."""
    return f"{WHICH[flight.which]}: flight {flight.number}"


def heading(failing: Failing) -> str:
    """Flights that fail, or the one that comes nearest when none does."""
    fails = any(each.which != "near" for each in failing.flights)
    return "The flights that fail" if fails or failing.traits else "The flight that comes nearest"
