"""What is uncertain about a hatch in the tube's side: what pushes it, what holds it."""

from goodflight.studies.sampling.quantity import KNOWLEDGE, Measured, Quantity
from goodflight.studies.sampling.spread import Even, Positive

air_share = Quantity(
    "hatch_air",
    "push of the air behind the hatch",
    "ratio",
    Even(1.0),
    nature=KNOWLEDGE,
    because="guess",
    reason="flush, the air beside it sucks at a small share of the dynamic pressure; with its "
    "front edge lifted all of that stands behind it",
    exists=lambda case: case.rocket.hatch.there,
    not_measurable="lay its front edge flush, or under the tube's skin; nothing on the ground "
    "shows the rest",
)
holds = Quantity(
    "given:hatch_n",
    "what holds the hatch",
    "force",
    Positive(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason="as the project says, or by how the figure is known",
    given=lambda case: case.rocket.hatch.holds_n,
    exists=lambda case: case.rocket.hatch.there,
    at="rocket.toml:hatch.holds",
    advice="pull the closed hatch straight outwards with a luggage scale, up to the load it must "
    "hold, and write it (hatch.holds); screws into metal or glued nuts, no tape",
    measured_by=Measured("pull the closed hatch straight outwards", 10.0, "luggage scale", 2.0),
)
