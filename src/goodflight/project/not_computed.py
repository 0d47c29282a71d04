"""What a builder may write that no model here computes: refused with the reason, never left out.

A cluster flown as one motor, or two fins flown as three, would be an answer about another rocket.
"""

from typing import Final

ONE_MOTOR: Final = "one motor; clusters and stages are not computed"
_LUGS: Final = 'kind = "buttons" with bore: two lugs, or the two ends of a long one'
_RAIL: Final = "rail_kind of the field's file, made_for, neck, head or bore of the guides"
_FINS: Final = 'kind = "fins", flat ones; tube fins, rings and grids are not computed'
KEYS: Final = dict.fromkeys(
    ("motor_count", "motors", "cluster", "stage", "stages", "booster", "sustainer"), ONE_MOTOR
) | dict.fromkeys(("rail", "rail_kind", "rod"), _RAIL)
KINDS: Final = dict.fromkeys(("cluster", "stage", "booster", "sustainer"), ONE_MOTOR) | {
    "lug": _LUGS,
    "lugs": _LUGS,
    "launch_lug": _LUGS,
    "tube_fins": _FINS,
    "ring_fin": _FINS,
    "grid_fins": _FINS,
}
LISTS: Final[dict[str | int, str]] = {"motor": ONE_MOTOR}  # keys that take one, given several
TWO_FINS: Final = "3 or more; with fewer it is not stable in every direction"
LISTED: Final = (  # what a builder may look for, and why it is not offered
    ("clusters, stages, boosters", ONE_MOTOR),
    ("the bending of a rod", "lugs on a rod are flown as guides in a straight rail"),
    ("tube fins, ring and grid fins", _FINS),
    ("two fins", TWO_FINS),
)
