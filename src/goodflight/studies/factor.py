"""One uncertain quantity of a planned flight."""

from dataclasses import dataclass


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
