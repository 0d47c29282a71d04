"""What is uncertain about a separation of paper in damp air."""

from goodflight.studies.sampling.quantity import CHANCE, KNOWLEDGE, Measured, Quantity
from goodflight.studies.sampling.recovery_stated import comes_apart
from goodflight.studies.sampling.spread import Normal, Relative

damper = Quantity(
    "damper",
    "how much damper the air is than when the pull was measured",
    "ratio",
    Normal(0.2),
    nature=CHANCE,
    because="guess",
    reason="40 to 60 % of humidity in a room, 30 to 90 % on a field",
    exists=comes_apart,
    measured_by=Measured("read a hygrometer at both", 5.0, "hygrometer", 0.07),
)
swelling = Quantity(
    "paper_swelling",
    "how much paper walls swell",
    "ratio",
    Relative(0.4),
    nature=KNOWLEDGE,
    because="memory",
    reason="2 to 5 % of the thickness from 30 to 80 % of humidity",
    exists=comes_apart,
    measured_by=Measured(
        "measure the coupler's wall dry, and after a night beside a wet cloth in a closed box",
        15.0,
        "micrometer",
        0.2,
    ),
)
