"""What is uncertain about seeing the rocket and finding it."""

from goodflight.studies.sampling.quantity import CHANCE, KNOWLEDGE, Measured, Quantity
from goodflight.studies.sampling.spread import Normal, Relative

eyesight = Quantity(
    "eyesight", "smallest thing an observer sees", "ratio", Relative(0.30),
    nature=KNOWLEDGE, because="guess", reason="eyes, haze and colour against the sky",
    measured_by=Measured("hold the rocket up on the field and walk away until you lose it", 15.0,
                         "map", 0.1),
)  # fmt: skip
luck = Quantity(
    "search_luck", "luck of the search", "ratio", Normal(1.0),
    nature=CHANCE, because="definition", reason="a search at random takes now less, now more",
    not_measurable="it is chance",
)  # fmt: skip
