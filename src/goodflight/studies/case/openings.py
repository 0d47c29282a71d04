"""Which separation opens first: the one of the bay that the plan's first canopy lies in.

A rocket's file says where it parts in two places and what lies in which bay; which of the two the
altimeter opens at the top is the plan's, by the canopy it names first.
"""

from dataclasses import replace

from goodflight.physics.vehicle.parts import Bay
from goodflight.project.designed import DesignedRocket


def in_order(rocket: DesignedRocket, first: str, main: str | None) -> DesignedRocket:
    """The rocket with the separation that its first canopy leaves by as `separation`.

    Nothing changes where one canopy opens, or where it is not known which bay holds which.
    """
    one, two = _bay(rocket, first), _bay(rocket, main)
    at, second = rocket.separation_station_m, rocket.main_station_m
    if one is None or two is None or at is None or second is None:
        return rocket
    if (one.station_m < two.station_m) == (at < second):  # the bay further fore by the fore joint
        return rocket
    was, opens = rocket.separation, rocket.main_separation
    opens = replace(
        opens,
        fixed_joint_n=was.fixed_joint_n,
        edge_strength_pa=was.edge_strength_pa,
        edge=was.edge,
        pack_pull_n=was.pack_pull_n,
        retention=was.retention,
        retention_n=was.retention_n,
    )
    return replace(
        rocket,
        separation=opens,
        main_separation=was,
        separation_station_m=second,
        main_station_m=at,
    )


def _bay(rocket: DesignedRocket, canopy: str | None) -> Bay | None:
    bays = iter(rocket.of_kind(Bay))
    return next((bay for bay in bays if canopy in bay.holds), None)
