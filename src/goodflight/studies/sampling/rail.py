"""What is uncertain about the launch rail."""

import math
from typing import Final

from goodflight.studies.sampling.quantity import CHANCE, KNOWLEDGE, Measured, Quantity, Stated
from goodflight.studies.sampling.spread import Normal

_SET: Final = Measured(
    "set the rail with a level and a compass", 5.0, "level and compass", math.radians(0.5)
)
lean_along = Quantity(
    "rail_along",
    "lean of the rail",
    "angle",
    Normal(math.radians(1.0)),
    nature=CHANCE,
    because="guess",
    reason="set with a phone or protractor on soft ground, settles as the rocket goes on",
    group="rail_set",
    measured_by=_SET,
)
lean_across = Quantity(
    "rail_across",
    "lean of the rail",
    "angle",
    Normal(math.radians(1.0)),
    nature=CHANCE,
    because="guess",
    reason="as along",
    group="rail_set",
    measured_by=_SET,
)
azimuth = Quantity(
    "rail_azimuth",
    "direction of the rail",
    "angle",
    Normal(math.radians(10.0)),
    nature=CHANCE,
    because="guess",
    reason="pointed by eye at a streamer",
    group="rail_set",
    measured_by=_SET,
)
friction = Quantity(
    "rail_friction",
    "friction of the guides",
    "ratio",
    Normal(0.06, low=0.02),
    nature=KNOWLEDGE,
    because="practice",
    reason="plastic on aluminium 0.15 to 0.3",
    given=lambda case: Stated(case.rail.friction),
    measured_by=Measured(
        "pull the rocket along the rail with a luggage scale", 10.0, "luggage scale", 0.03
    ),
)
