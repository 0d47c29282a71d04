"""What is uncertain about how the rocket comes apart: pull, charge, anchors, first motion."""

import math
from collections.abc import Callable
from typing import Final

from goodflight.physics.recovery.separation import pin_force_n
from goodflight.studies.case.planned import Case
from goodflight.studies.sampling.quantity import CHANCE, KNOWLEDGE, Measured, Quantity, shown_over
from goodflight.studies.sampling.recovery_stated import comes_apart
from goodflight.studies.sampling.spread import Normal, Positive, Relative

_TOLD: Final = "as the project says, or by how the figure is known"
_HANG: Final = "hang weights on a copy of it, glued to a scrap, until it gives"
_PUSH: Final = (
    "push on a copy of it, glued into a scrap of tube, over bathroom scales until it gives"
)
_FLIGHT: Final = "it differs from flight to flight; nothing on the ground shows it"


def _joint(key: str) -> Callable[[Case], str]:
    """Where the separation that opens first is written."""
    return lambda case: f"rocket.toml:{case.rocket.separation.tables[0]}.{key}"


def _charge(key: str) -> Callable[[Case], str]:
    """Where its charge is written."""
    return lambda case: f"rocket.toml:{case.rocket.separation.tables[1]}.{key}"


def _pins(case: Case) -> float:
    return pin_force_n(case.rocket.separation.pin_thread, case.rocket.separation.pins)


pull = Quantity(
    "given:pull_n",
    "pull to separate",
    "force",
    Positive(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    given=lambda case: case.rocket.separation.pull_n,
    at=_joint("pull"),
    advice="pull the rocket apart with a luggage scale, pins out, three times, and write the "
    "mean (separation.pull); `goodflight separation` gives the window it should lie in",
    measured_by=Measured(
        "pull the rocket apart with a luggage scale, ten times", 10.0, "luggage scale", 1.0
    ),
)
gap = Quantity(
    "given:clearance_m",
    "gap around the coupler",
    "length",
    Relative(0.5),
    middle=0.0002,
    nature=KNOWLEDGE,
    because="practice",
    reason="[[0.1 to 0.4 mm]] on the diameter; [[0.2 mm]] when not given",
    given=lambda case: case.rocket.separation.clearance_m,
    exists=comes_apart,
    at=_joint("clearance"),
    measured_by=Measured("measure coupler and tube with a calliper", 5.0, "calliper", 0.00005),
)
fore_anchor = Quantity(
    "given:fore_anchor_n",
    "forward anchor of the cord",
    "force",
    Positive(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    given=lambda case: case.rocket.separation.fore_anchor_n,
    at=_joint("fore_anchor"),
    measured_by=Measured(_HANG, 60.0, "weights", 50.0),
)
aft_anchor = Quantity(
    "given:aft_anchor_n",
    "aft anchor of the cord",
    "force",
    Positive(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    given=lambda case: case.rocket.separation.aft_anchor_n,
    at=_joint("aft_anchor"),
    measured_by=Measured(_HANG, 60.0, "weights", 50.0),
)
bulkhead = Quantity(
    "given:bulkhead_n",
    "bulkhead ahead of the bay",
    "force",
    Positive(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    given=lambda case: case.rocket.separation.bulkhead_n,
    at=_joint("bulkhead"),
    advice="say what push the bulkhead ahead of the bay stands (separation.bulkhead)",
    measured_by=Measured(_PUSH, 60.0, "bathroom scales and lever", 50.0),
)
fixed_joint = Quantity(
    "given:fixed_joint_n",
    "joint that must stay",
    "force",
    Positive(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    given=lambda case: case.rocket.separation.fixed_joint_n,
    at="rocket.toml:separation.fixed_joint",
    advice="say what pull the joint of the nose, which must stay, holds: hang a bucket on it",
    measured_by=Measured(
        "hang a bucket of water on it up to the load it must hold", 15.0, "bucket and scale", 20.0
    ),
)
edge_strength = Quantity(
    "given:edge_strength_pa",
    "strength of the tube's edge",
    "pressure",
    Positive(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    given=lambda case: case.rocket.separation.edge_strength_pa,
    at="rocket.toml:separation.edge_strength",
    advice="say what the tube's edge is made of (separation.edge), or pull-test one",
    measured_by=Measured(
        "hang weights on a piece of the cord over the edge of an offcut of the "
        "tube until it tears in, and divide by cord width x wall",
        30.0,
        "weights and calliper",
        2e6,
    ),
)
powder = Quantity(
    "given:powder_kg",
    "powder of your own charge",
    "powder",
    Positive(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    given=lambda case: case.rocket.separation.powder_kg,
    at=_charge("powder"),
    advice="weigh the powder of the ground test that worked and write it (charge.powder)",
    measured_by=Measured(
        "weigh it, away from flame and sparks, by the rules of the place",
        10.0,
        "jewellery scale",
        0.00002,
    ),
)
blanket = Quantity(
    "given:blanket_m2",
    "heat blanket",
    "area",
    Positive(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    given=lambda case: case.rocket.separation.blanket_m2,
    at=_charge("blanket"),
    advice="say what shields the canopy from the charge: the blanket's area (charge.blanket), or "
    "wadding = true; 0.3 m square is 0.09 m2",
    measured_by=Measured("lay it flat and measure it", 2.0, "tape", 0.001),
)
pack_pull = Quantity(
    "given:pack_pull_n",
    "pull that draws the pack out",
    "force",
    Positive(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    given=lambda case: case.rocket.separation.pack_pull_n,
    at="rocket.toml:charge.pack_pull",
    measured_by=Measured(
        "pull the packed gear out with a luggage scale", 15.0, "luggage scale", 0.5
    ),
)
retention = Quantity(
    "given:retention_n",
    "retention of the motor",
    "force",
    Positive(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=_TOLD,
    given=lambda case: case.rocket.separation.retention_n,
    at="rocket.toml:retention.holds",
    advice="say what keeps the motor in and the push it stands (retention.kind, retention.holds): "
    "the maker's figure, or push the empty case against a scale",
    measured_by=Measured(
        "push an empty case against it over bathroom scales", 20.0, "bathroom scales", 20.0
    ),
)
pin_strength = Quantity(
    "pin_strength",
    "strength of the shear pins",
    "ratio",
    Relative(0.20),
    nature=KNOWLEDGE,
    because="derived",
    reason="moisture of the nylon 15 %, edge and fit of the hole 10 %, the nylon itself 6 %, taken "
    "together; a pin fitted in a heated dry room is the strong one",
    exists=lambda case: case.rocket.separation.pins > 0,
    measured_by=Measured(
        "shear three sets of pins in the tube with a luggage scale, at the field's humidity",
        30.0,
        "luggage scale",
        0.08,
        shown_over("force", _pins),
    ),
)
pack_friction = Quantity(
    "pack_friction",
    "friction of the pack in its tube",
    "ratio",
    Relative(0.5),
    nature=KNOWLEDGE,
    because="guess",
    reason="twice its weight when no pull is given: a pack that slides out when the tube is shaken",
    exists=lambda case: comes_apart(case) and case.rocket.separation.pack_pull_n is None,
    measured_by=Measured(
        "pull the packed gear out with a luggage scale", 15.0, "luggage scale", 0.1
    ),
)
powder_heat = Quantity(
    "powder_heat",
    "heat the charge loses to the tube",
    "ratio",
    Relative(0.155),
    nature=KNOWLEDGE,
    because="guess",
    reason="gas work between the closed bomb (1.14 of the trade value) and 0.6 of it in a cold bay",
    exists=comes_apart,
    measured_by=Measured(
        "ground test with a weight on the nose that it just lifts off, by the "
        "rules of the place, nobody in line",
        60.0,
        "weights",
        0.1,
    ),
)
gas_in_pack = Quantity(
    "gas_in_pack",
    "how far the gas gets into the packed cloth",
    "ratio",
    Normal(0.25),
    nature=CHANCE,
    because="memory",
    reason="anywhere between the solid volume of the cloth and pressed by 15 psi (481 kg/m3, seen)",
    exists=comes_apart,
    not_measurable=_FLIGHT,
)
charge_burn = Quantity(
    "charge_burn",
    "burning time of the charge",
    "ratio",
    Relative(0.40),
    nature=KNOWLEDGE,
    because="memory",
    reason="0.005 to 0.03 s; 0.015 s in the middle",
    exists=comes_apart,
    not_measurable="it takes a fast pressure gauge in the bay",
)
axis = Quantity(
    "parting_axis",
    "where the rocket points as it parts",
    "angle",
    Normal(math.radians(15.0)),
    nature=CHANCE,
    because="guess",
    reason="lies along its path while fast, swings about it near the top",
    exists=comes_apart,
    not_measurable=_FLIGHT,
)
booster_turn = Quantity(
    "booster_turn",
    "turning of the booster after parting",
    "angular_rate",
    Normal(2.0),
    nature=CHANCE,
    because="guess",
    reason="a third of a turn in a second either way",
    exists=comes_apart,
    not_measurable=_FLIGHT,
)
handling = Quantity(
    "handling",
    "jerk in handling",
    "ratio",
    Normal(0.25),
    nature=CHANCE,
    because="guess",
    reason="lifted and turned by hand at 1.5 times its weight",
    exists=comes_apart,
    not_measurable="carry it with care: it depends on the hand, not on the rocket",
)
