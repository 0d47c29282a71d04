"""Holes of the builder's own that the launch rail would stand in front of."""

from math import ceil, degrees
from typing import Final

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.vents import apart_rad
from goodflight.quantity.said import Said, literal
from goodflight.studies.bench.choices import FILE, Choices, Hole
from goodflight.studies.bench.places import FinCan, fin_can, tube_at

RAIL_HALF_M: Final = (
    0.015  # half of a launch rail's width, rails of 25 to 30 mm; practice, no source
)


def facing_rail(rocket: p.Rocket, choices: Choices) -> dict[Hole, Said]:
    """Holes that face the rail, each with what is wrong and what to do.

    Parameters
    ----------
    rocket : Rocket - as flown. [-]
    choices : Choices - the builder's own holes. [SI]

    Returns
    -------
    found : dict of Hole to Said - empty where none does, or the rocket has no rail guides. [-]
    """
    can = fin_can(rocket)
    if can is None or can.buttons is None:
        return {}
    tubes = {hole: tube_at(rocket, hole.station_m) for hole in choices.holes}
    told = {hole: _told(can, tube, hole) for hole, tube in tubes.items() if tube is not None}
    return {hole: words for hole, words in told.items() if words is not None}


def _told(can: FinCan, tube: p.Tube, hole: Hole) -> Said | None:
    rail = can.button_angle_rad
    half_m = max(hole.diameter_m, hole.width_m) / 2.0
    clear = (half_m + RAIL_HALF_M) / (tube.outer_diameter_m / 2.0)
    if apart_rad(hole.angle_rad, rail) >= clear:
        return None
    off, line = ceil(degrees(clear)), degrees(rail)
    sides = " or ".join(f"{round(line + turn) % 360} deg" for turn in (-off, off))
    words = (
        f"{hole.name}: at {degrees(hole.angle_rad):.0f} deg it faces the launch rail, whose line "
        f"is at {line:.0f} deg, and the rail covers it on the pad: turn it {off} deg or more off "
        f"that line, {sides} at the nearest"
    )
    return Said(literal(words), home=f"{FILE}:bench.hole[{hole.name}].angle")
