"""What the model itself does not know: aerodynamics, formulas, rules of thumb taken as limits."""

import math
from typing import Final

from goodflight.studies.case.planned import Case
from goodflight.studies.sampling.quantity import KNOWLEDGE, Measured, Quantity, Shown, Stated
from goodflight.studies.sampling.spread import Normal, Relative

_FLOWN: Final = Measured(
    "fly it once with a logger, debrief it and carry it over",
    240.0,
    "logger with barometer",
    0.05,
    Shown("ratio", lambda _case, shown: shown, once=True),
)
_FORMULA: Final = "an error of the formula, the same for every rocket: nothing of yours shows it"


def _of_case(case: Case, key: str) -> Stated | None:
    """Spread of the aerodynamic model for this rocket and speed."""
    found = next((each for each in case.uncertainty.model_spreads if each[0] == key), None)
    return None if found is None else Stated(None, found[2], reason=found[3])


cp = Quantity(
    "model:cp",
    "centre of pressure of the model",
    "length",
    Normal(0.0),
    nature=KNOWLEDGE,
    because="guess",
    reason="lift of fins and body on each other",
    middle=0.0,
    given=lambda case: _of_case(case, "cp"),
    not_measurable="no flight instrument shows where the air's force acts",
)
axial = Quantity(
    "model:axial",
    "drag of the model",
    "ratio",
    Relative(0.0),
    nature=KNOWLEDGE,
    because="guess",
    reason="base drag and finish",
    given=lambda case: _of_case(case, "axial"),
    measured_by=_FLOWN,
    carried=True,
)
body_slope = Quantity(
    "model:body_slope",
    "body lift of the model",
    "ratio",
    Relative(0.0),
    nature=KNOWLEDGE,
    because="guess",
    reason="thick and blunt shapes of hand-made rockets",
    given=lambda case: _of_case(case, "body_slope"),
    not_measurable=_FORMULA,
)
fin_slope = Quantity(
    "model:fin_slope",
    "fin lift of the model",
    "ratio",
    Relative(0.0),
    nature=KNOWLEDGE,
    because="guess",
    reason="thick and blunt shapes of hand-made rockets",
    given=lambda case: _of_case(case, "fin_slope"),
    not_measurable=_FORMULA,
)
crossflow = Quantity(
    "model:crossflow",
    "cross-flow lift of the model",
    "ratio",
    Relative(0.0),
    nature=KNOWLEDGE,
    because="guess",
    reason="transition of the boundary layer",
    given=lambda case: _of_case(case, "crossflow"),
    not_measurable=_FORMULA,
)
stall = Quantity(
    "stall",
    "angle of attack at which the fins stall",
    "angle",
    Normal(math.radians(5.0)),
    nature=KNOWLEDGE,
    because="winter1936",
    reason="plates of aspect ratio 1 and 2 stall at 36 and 22 deg by our table, at 26 and 20 in a "
    "tunnel",
    not_measurable="it takes a wind tunnel",
)
flutter_model = Quantity(
    "flutter_model",
    "flutter formula",
    "ratio",
    Relative(0.10),
    nature=KNOWLEDGE,
    because="guess",
    reason="TN 4197 is a fit by its author; unswept thin plates",
    not_measurable=_FORMULA,
)
thrust_floor = Quantity(
    "thrust_floor",
    "thrust a rocket needs to leave straight",
    "ratio",
    Normal(0.3),
    nature=KNOWLEDGE,
    because="practice",
    reason="practice: 3 is the floor, 5 the aim",
    not_measurable="a rule of thumb, not a property of your rocket",
)
tumble_area = Quantity(
    "tumble_area",
    "drag of the separated rocket",
    "ratio",
    Relative(0.30),
    nature=KNOWLEDGE,
    because="practice",
    reason="tumbling bodies broadside half of the time",
    measured_by=Measured(
        "film the descent of the separated rocket before its canopy fills, with a "
        "known length in view",
        240.0,
        "camera",
        0.15,
    ),
)
vent_rule = Quantity(
    "vent_rule",
    "rule for vents",
    "ratio",
    Relative(0.15),
    nature=KNOWLEDGE,
    because="practice",
    reason="two rules in use differ by four, neither with a source for its limits",
    not_measurable="a rule of thumb, not a property of your rocket",
)
drag_share = Quantity(
    "drag_share",
    "drag ahead of the separation",
    "ratio",
    Relative(0.15),
    nature=KNOWLEDGE,
    because="guess",
    reason="nose and friction ahead of it, from the drag build-up",
    exists=lambda case: case.rocket.separation_station_m is not None,
    not_measurable=_FORMULA,
)
