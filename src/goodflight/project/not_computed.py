"""What a builder may write that no model here computes: refused with the reason, never left out.

A cluster flown as one motor, or two fins flown as three, would be an answer about another rocket.
"""

from typing import Final

ONE_MOTOR: Final = "one motor; clusters and stages are not computed"
_GUIDES: Final = 'kind = "buttons": two guides in a slotted rail; a lug on a rod is not computed'
_FINS: Final = 'kind = "fins", flat ones; tube fins, rings and grids are not computed'
KEYS: Final = dict.fromkeys(
    ("motor_count", "motors", "cluster", "stage", "stages", "booster", "sustainer"), ONE_MOTOR
) | dict.fromkeys(("rail", "rail_kind", "rod"), _GUIDES)
KINDS: Final = dict.fromkeys(("cluster", "stage", "booster", "sustainer"), ONE_MOTOR) | {
    "lug": _GUIDES,
    "lugs": _GUIDES,
    "launch_lug": _GUIDES,
    "tube_fins": _FINS,
    "ring_fin": _FINS,
    "grid_fins": _FINS,
}
TWO_FINS: Final = "3 or more; with fewer it is not stable in every direction"
LISTED: Final = (  # what a builder may look for, and why it is not offered
    ("clusters, stages, boosters", ONE_MOTOR),
    ("launch lugs, rods", _GUIDES),
    ("tube fins, ring and grid fins", _FINS),
    ("two fins", TWO_FINS),
)
