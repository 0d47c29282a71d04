"""What is uncertain about canopy and cord: opening, drag, strength, knots, packing."""

from typing import Final

from goodflight.studies.case.planned import Case, cord_of
from goodflight.studies.sampling.quantity import (
    CHANCE,
    KNOWLEDGE,
    Measured,
    Quantity,
    Shown,
    Stated,
    shown_over,
)
from goodflight.studies.sampling.recovery_stated import (
    LINE_KNOT,
    LINE_KNOT_WHY,
    TOLD,
    by_lines,
    canopy_advice,
    canopy_drag_of,
    canopy_key,
    canopy_strength_of,
    comes_apart,
    cord_key,
    cord_strength_of,
    has_canopy,
    has_cord,
    has_main,
    knotted_n,
    lines_left,
    main_drag_of,
    main_key,
    packs,
    room_of,
    stowed,
)
from goodflight.studies.sampling.spread import Normal, Positive, Relative

_PULL: Final = "pull-test a piece until it breaks"
_RIG: Final = "luggage scale and lever"
_BREAKS: Final = "testing it would break the canopy that is to fly"

stretch = Quantity(
    "stretch",
    "time to line stretch",
    "ratio",
    Relative(0.30),
    nature=KNOWLEDGE,
    because="practice",
    reason="cord length over a parting speed of [[6 to 14 m/s]]",
    measured_by=Measured(
        "fire the ground test on a rail and film it beside a tape", 30.0, "camera and tape", 0.15
    ),
)
deploy_speed = Quantity(
    "deploy_speed",
    "speed at which the gear may open",
    "speed",
    Normal(3.04),
    nature=KNOWLEDGE,
    because="practice",
    reason="safe up to [[20 m/s]] (5 in 100 break there), alarm from [[25 to 30 m/s]] (95 in 100)",
    not_measurable=_BREAKS,
)
canopy_drag = Quantity(
    "canopy_drag",
    "drag coefficient of the canopy",
    "ratio",
    Positive(0.08),
    nature=KNOWLEDGE,
    because="memory",
    reason="flat canopies print 0.75 to 0.80, rigs differ more",
    given=canopy_drag_of,
    exists=has_canopy,
    at=canopy_key("drag_coefficient"),
    measured_by=Measured(
        "drop it from a height with a known weight, timed", 60.0, "stopwatch and tape", 0.04
    ),
    carried=True,
)
fill_constant = Quantity(
    "fill_constant",
    "time the canopy takes to fill",
    "ratio",
    Relative(0.20),
    nature=KNOWLEDGE,
    because="memory",
    reason="8 to 10 for solid cloth (Knacke); packing makes it slower",
    exists=has_canopy,
    measured_by=Measured(
        "film it opening behind a car or from a bridge, with a known length in view",
        90.0,
        "camera",
        0.1,
    ),
)
overshoot = Quantity(
    "overshoot",
    "opening shock of the canopy",
    "ratio",
    Relative(0.08),
    nature=KNOWLEDGE,
    because="memory",
    reason="printed between 1.5 and 1.8 for flat canopies; 1.5 to 1.6 in a tunnel (seen)",
    exists=has_canopy,
    not_measurable="it takes a load cell in the line at the speed of flight",
)
canopy_strength = Quantity(
    "canopy_strength",
    "strength of the canopy",
    "force",
    Positive(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=TOLD,
    given=canopy_strength_of,
    exists=lambda case: has_canopy(case) and not by_lines(case),
    at=canopy_key("strength"),
    advice=canopy_advice,
    measured_by=Measured("pull-test a seam until it breaks", 30.0, _RIG, 20.0),
)
line_knot = Quantity(
    "line_knot",
    "strength of the canopy lines left by knots",
    "ratio",
    Relative(LINE_KNOT),
    nature=KNOWLEDGE,
    because="memory",
    reason=LINE_KNOT_WHY,
    given=lines_left,
    exists=by_lines,
    measured_by=Measured("pull-test a knotted line until it breaks", 30.0, _RIG, 0.05),
)
line_share = Quantity(
    "line_share",
    "uneven load of the canopy lines",
    "ratio",
    Relative(0.15),
    nature=CHANCE,
    because="guess",
    reason="an opening canopy loads some lines first",
    exists=by_lines,
    not_measurable="it takes a load cell in every line",
)
cord_strength = Quantity(
    "cord_strength",
    "strength of the cord",
    "force",
    Positive(0.0),
    nature=KNOWLEDGE,
    because="builder",
    reason=TOLD,
    given=cord_strength_of,
    exists=has_cord,
    at=cord_key("strength"),
    advice="give the cord's breaking strength (printed on the spool, or pull-test a piece)",
    measured_by=Measured(_PULL, 30.0, _RIG, 50.0),
)
knot = Quantity(
    "knot",
    "strength of the cord left by knots and loops",
    "ratio",
    Relative(0.15),
    nature=KNOWLEDGE,
    because="memory",
    reason="0.35 to 0.85 seen for knots; the project's figure is a middle",
    exists=has_cord,
    measured_by=Measured(
        "pull-test a piece with its knots until it breaks",
        30.0,
        _RIG,
        0.05,
        shown_over("force", knotted_n),
    ),
)


def _stretch(case: Case) -> Stated:
    """Spread of the cord's stretch, where the project says it or it was measured."""
    cord = cord_of(case)
    said = None if cord is None else cord.elongation_figure
    return Stated(None) if said is None else Stated(None, said.sigma, said.known, said.path)


cord_give = Quantity(
    "cord_give",
    "stretch of the cord",
    "ratio",
    Relative(0.20),
    nature=KNOWLEDGE,
    because="memory",
    reason="at break nylon 18 to 40 % (seen), mostly 20 to 25; aramid 3.5 to 7 %; slowly pulled: "
    "in a jerk nylon may be 1.3 to 2.5 times as stiff (memory), which is not in this spread",
    exists=packs,
    given=_stretch,
    measured_by=Measured(
        "hang a known weight on a metre of it and measure how far it stretches",
        15.0,
        "weight and tape",
        0.05,
    ),
)
cord_damping = Quantity(
    "cord_damping",
    "damping of the cord",
    "ratio",
    Relative(0.4),
    nature=KNOWLEDGE,
    because="guess",
    reason="a tenth of critical in the middle",
    exists=comes_apart,
    measured_by=Measured(
        "hang a weight on a metre of it, let it bounce and film it against a tape",
        20.0,
        "camera, weight and tape",
        0.2,
    ),
)
edge_friction = Quantity(
    "edge_friction",
    "friction of the cord on the tube's edge",
    "ratio",
    Relative(0.33),
    nature=KNOWLEDGE,
    because="memory",
    reason="nylon webbing on card 0.2 to 0.4; 0.3 in the middle",
    exists=comes_apart,
    measured_by=Measured(
        "hang the cord over an offcut of the tube with a weight on each end, and "
        "add weight to one until it slips",
        15.0,
        "weights",
        0.1,
    ),
)
pack_area = Quantity(
    "pack_area",
    "drag of pack and blanket",
    "ratio",
    Relative(0.5),
    nature=KNOWLEDGE,
    because="guess",
    reason="a bluff bundle as wide as the tube, blanket flapping",
    exists=comes_apart,
    measured_by=Measured("pack it and measure the stack", 15.0, "tape", 0.3),
)
pack_room = Quantity(
    "pack_room",
    "room the packed gear takes",
    "ratio",
    Relative(0.04),
    nature=CHANCE,
    because="guess",
    reason="the same pack rolled again; three times that where no packed length is given",
    exists=stowed,
    measured_by=Measured(
        "pack it and measure the stack", 15.0, "tape", 0.02, Shown("length", room_of)
    ),
)
blanket_lap = Quantity(
    "blanket_lap",
    "overlap of the blanket",
    "ratio",
    Normal(0.15),
    nature=CHANCE,
    because="guess",
    reason="wrapped once round with a quarter to spare",
    exists=stowed,
    measured_by=Measured("pack it and measure how far the blanket overlaps", 10.0, "tape", 0.05),
)
main_drag = Quantity(
    "main_drag",
    "drag coefficient of the main canopy",
    "ratio",
    Positive(0.08),
    nature=KNOWLEDGE,
    because="memory",
    reason="flat canopies print 0.75 to 0.80, rigs differ more",
    given=main_drag_of,
    exists=has_main,
    at=main_key("drag_coefficient"),
    measured_by=Measured(
        "drop it from a height with a known weight, timed", 60.0, "stopwatch and tape", 0.04
    ),
    carried=True,
)
main_strength = Quantity(
    "main_strength",
    "strength of the main canopy",
    "ratio",
    Relative(0.20),
    nature=KNOWLEDGE,
    because="guess",
    reason="of a home-sewn canopy and its knots",
    exists=has_main,
    measured_by=Measured("pull-test a seam until it breaks", 30.0, _RIG, 0.1),
)
main_speed = Quantity(
    "main_speed",
    "speed at which the main may open",
    "speed",
    Normal(4.0),
    nature=KNOWLEDGE,
    because="practice",
    exists=has_main,
    reason="drogue descent of [[15 to 17 m/s]] is aimed at, [[30 m/s]] the most",
    not_measurable=_BREAKS,
)
main_height = Quantity(
    "main_height",
    "height at which the altimeter fires the main",
    "length",
    Normal(5.0),
    nature=CHANCE,
    because="memory",
    exists=has_main,
    reason="pressure of the day drifts [[8 m]] an hour on the pad, and the sensor is good to some "
    "metres",
    not_measurable="it differs from day to day; a vacuum test shows that it fires, not how high",
)
