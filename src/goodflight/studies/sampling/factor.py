"""One uncertain quantity of a planned flight."""

from dataclasses import dataclass

from goodflight.studies.sampling.spreads import Spread


@dataclass(frozen=True)
class Factor:
    """One uncertain quantity: one column of standard-normal scores."""

    key: str
    label: str
    group: str
    sigma: float  # one standard deviation, SI, or relative
    known: str = "guess"
    path: str = ""
    value: float | None = None  # nominal, SI; None = a factor or an error about zero
    dimension: str = "ratio"
    reason: str = ""
    relative: bool = True  # of a ratio: sigma is a share of the value
    share: bool = False  # sigma is a share of the value, whatever its dimension


def assumed(spread: Spread) -> Factor:
    """A quantity nobody gives: a spread of the project's own registries as a column of scores."""
    return Factor(
        spread.key,
        spread.label,
        spread.group or spread.key,
        spread.sigma,
        dimension=spread.dimension,
        reason=spread.reason,
        relative=spread.relative,
    )
