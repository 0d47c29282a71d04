"""A hatch in the tube's side: the table `[hatch]` and what is given of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Annotated

from goodflight.physics.vehicle.figure import Figure
from goodflight.project.fields import Force, Key, Length, Station, Table
from goodflight.project.head.taking import taken


class HatchTable(Table):
    """A hatch in the tube's side, the worst one: what the air and a charge may blow off."""

    station: Annotated[Station | None, Key("where its middle is")] = None
    length: Annotated[Length | None, Key("length along the rocket, from edge to edge")] = None
    width: Annotated[Length | None, Key("width straight across, from edge to edge")] = None
    holds: Annotated[
        Force | None, Key("pull straight outwards that it stands, closed", becomes="holds_n")
    ] = None


@dataclass(frozen=True)
class Hatch:
    """A hatch in the tube's side; None = not given."""

    there: bool = False
    station_m: float | None = None  # of its middle
    length_m: float | None = None  # along the rocket
    width_m: float | None = None  # straight across
    holds_n: Figure | None = None  # pull straight outwards that it stands


def build_hatch(told: HatchTable, there: bool, overrides: Mapping[str, float]) -> Hatch:
    """Return the hatch in the tube's side, what is given of it.

    Parameters
    ----------
    told : HatchTable - of the rocket's file. [-]
    there : bool - whether the file has it. [-]
    overrides : mapping - SI values by path. [SI]

    Returns
    -------
    hatch : Hatch - not there where the file has no such table. [SI]
    """
    return Hatch(
        there=there,
        station_m=None if told.station is None else told.station.value,
        length_m=None if told.length is None else told.length.value,
        width_m=None if told.width is None else told.width.value,
        **taken({"hatch": told}, overrides),
    )
