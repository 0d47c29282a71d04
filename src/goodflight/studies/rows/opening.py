"""The two times a rocket parts: for its first canopy, and for a main by the altimeter's height.

A row that is asked of both is written once and told which; here stands what is drawn for each.
"""

from dataclasses import dataclass
from typing import Final

from goodflight.studies.asking import asked, entry
from goodflight.studies.case.planned import Case, joint_m
from goodflight.studies.rows.model import Missing
from goodflight.studies.sampling import second, separation
from goodflight.studies.sampling.quantity import Quantity


@dataclass(frozen=True, eq=False)
class Opening:
    """One of the two, with its quantities and the outcome that holds its height."""

    main: bool
    height: str
    pull: Quantity
    pin_strength: Quantity
    gap: Quantity
    gas_in_pack: Quantity
    blanket: Quantity
    no_station: Missing


NO_SEPARATION: Final = asked(
    "write the station where the rocket separates",
    entry(
        "rocket.toml:separates_at",
        "station where it separates",
        how="measure it from the nose tip",
        dimension="length",
        instrument="tape",
        minutes=2.0,
    ),
)
_NO_MAIN_STATION: Final = asked(
    "write the station where the rocket separates for the main",
    entry(
        "rocket.toml:main_separation.at",
        "where it separates for the main",
        how="measure it from the nose tip",
        dimension="length",
        instrument="tape",
        minutes=2.0,
    ),
)
FIRST: Final = Opening(
    False,
    "ejection_m",
    separation.pull,
    separation.pin_strength,
    separation.gap,
    gas_in_pack=separation.gas_in_pack,
    blanket=separation.blanket,
    no_station=NO_SEPARATION,
)
MAIN: Final = Opening(
    True,
    "main_m",
    second.pull,
    second.pin_strength,
    second.gap,
    gas_in_pack=second.gas_in_pack,
    blanket=second.blanket,
    no_station=_NO_MAIN_STATION,
)


def nearest_motor(case: Case) -> Opening:
    """The one whose bay lies next to the motor: the one further aft."""
    first, main = joint_m(case), joint_m(case, main=True)
    if case.deployment.main_canopy is None or first is None or main is None:
        return FIRST
    return MAIN if main > first else FIRST
