"""What is uncertain about seeing the rocket."""

from goodflight.studies.sampling.quantity import KNOWLEDGE, Measured, Quantity
from goodflight.studies.sampling.spread import Relative

eyesight = Quantity(
    "eyesight",
    "smallest thing an observer sees",
    "ratio",
    Relative(0.30),
    nature=KNOWLEDGE,
    because="guess",
    reason="eyes, haze and colour against the sky",
    measured_by=Measured(
        "hold the rocket up on the field and walk away until you lose it", 15.0, "tape", 0.1
    ),
)
