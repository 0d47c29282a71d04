"""A figure that the builder gives: its value, its spread, how it is known and where it stands."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Figure:
    """A figure with one standard deviation, how it is known, and where it stands."""

    value: float
    sigma: float = 0.0
    known: str = "guess"
    path: str = ""
    by_kind: bool = False  # not its own figure but that of the kind it is said to be of
