"""Where a packed canopy or cord lies that does not say how long its pack is."""

import math
from collections.abc import Sequence
from dataclasses import replace

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part, of_kind


def lying(part: Part, parts: Sequence[Part]) -> Part:
    """Return a pack of unknown length in the middle of where it may lie, with the spread of that.

    Its front end is told, its rear end is anywhere up to the end of its room; any other part, and
    a pack whose length or balance point is told, comes back as it is.
    """
    if not part.soft or part.balance_m is not None or part.rolled_m > 0.0:
        return part
    room = max(_end_m(part, parts) - part.station_m, 0.0)
    spread = math.hypot(part.balance_sigma_m, 0.5 * room / math.sqrt(12.0))
    return replace(part, balance_m=part.station_m + 0.25 * room, balance_sigma_m=spread)


def _end_m(pack: Part, parts: Sequence[Part]) -> float:
    """Station where the room of a pack ends: of its bay, else of what stops it behind."""
    bays = of_kind(parts, p.Bay)
    for bay in sorted(bays, key=lambda each: pack.name not in each.holds):
        end = bay.station_m + bay.length_m
        if pack.name in bay.holds or bay.station_m <= pack.station_m < end:
            return end
    behind = [each for each in parts if each.station_m > pack.station_m]
    stops = [e.station_m for e in behind if e.glued_in or isinstance(e, p.MotorTube)]
    return min(stops, default=max((each.station_m for each in behind), default=pack.station_m))
