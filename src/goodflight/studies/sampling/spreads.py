"""Every spread that does not come from the builder's own figures, with the reason for its size.

One registry: key, words for the reader, one standard deviation, why that much. Spreads of masses,
lengths, canopy and motor come with the project's figures and stand there.
"""

import math
from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True)
class Spread:
    """One assumed spread: one standard deviation in SI units, or relative when `relative`."""

    key: str
    label: str
    sigma: float
    dimension: str
    reason: str
    group: str = ""  # quantities shown as one driver
    relative: bool = False


def _degrees(value: float) -> float:
    return math.radians(value)


_ALL: Final = (
    Spread(
        "trim_depth",
        "depth of the delay drilling",
        0.12,
        "time",
        "a hand-turned drill stop is good to about 0.1 mm, delay grain burns near 1 mm/s",
    ),
    Spread(
        "thrust_angle_y",
        "thrust line",
        _degrees(0.20),
        "angle",
        "motor 0.5 mm loose over 200 mm of motor tube, nozzle throat 0.1 deg",
        "thrust_line",
    ),
    Spread("thrust_angle_z", "thrust line", _degrees(0.20), "angle", "as across", "thrust_line"),
    Spread(
        "thrust_offset_y",
        "thrust line",
        0.0005,
        "length",
        "motor tube glued 0.5 mm off centre",
        "thrust_line",
    ),
    Spread("thrust_offset_z", "thrust line", 0.0005, "length", "as across", "thrust_line"),
    Spread(
        "fin_cant",
        "alignment of the fins",
        _degrees(0.5),
        "angle",
        "fins set by hand on a marked line, when the project says nothing: 1 mm over a 115 mm root",
        "fin_alignment",
    ),
    Spread(
        "rail_along",
        "lean of the rail",
        _degrees(1.0),
        "angle",
        "set with a phone or protractor on soft ground, settles as the rocket goes on",
        "rail_set",
    ),
    Spread("rail_across", "lean of the rail", _degrees(1.0), "angle", "as along", "rail_set"),
    Spread(
        "rail_azimuth",
        "direction of the rail",
        _degrees(10.0),
        "angle",
        "pointed by eye at a streamer",
        "rail_set",
    ),
    Spread(
        "rail_friction",
        "friction of the guides",
        0.06,
        "ratio",
        "plastic on aluminium 0.15 to 0.3, common practice, no source",
    ),
    Spread(
        "gust_factor",
        "gustiness",
        0.20,
        "ratio",
        "gust over mean read from minutes of a hand-held meter",
        relative=True,
    ),
    Spread(
        "fill_constant",
        "time the canopy takes to fill",
        0.20,
        "ratio",
        "8 to 10 for solid cloth (Knacke, from memory); packing makes it slower",
        relative=True,
    ),
    Spread(
        "overshoot",
        "opening shock of the canopy",
        0.06,
        "ratio",
        "printed between 1.5 and 1.8 for flat canopies",
        relative=True,
    ),
    Spread(
        "stretch",
        "time to line stretch",
        0.30,
        "ratio",
        "cord length over a parting speed of 6 to 14 m/s",
        relative=True,
    ),
    Spread(
        "tumble_area",
        "drag of the opened rocket",
        0.30,
        "ratio",
        "tumbling bodies broadside half of the time, common practice, no source",
        relative=True,
    ),
    Spread(
        "deploy_speed",
        "speed at which the gear may open",
        3.04,
        "speed",
        "common practice, no source: safe up to 20 m/s (5 in 100 break there), alarm from 25 to "
        "30 m/s (95 in 100)",
    ),
    Spread(
        "knot",
        "what knots and loops leave of the cord",
        0.15,
        "ratio",
        "0.35 to 0.85 seen for knots; the project's figure is a middle",
        relative=True,
    ),
    Spread(
        "line_knot",
        "what knots leave of the canopy lines",
        0.15,
        "ratio",
        "0.65 seen on a canopy data sheet; 0.60 to 0.80 for any knot",
        relative=True,
    ),
    Spread(
        "line_share",
        "uneven load of the canopy lines",
        0.15,
        "ratio",
        "an opening canopy loads some lines first",
        relative=True,
    ),
    Spread(
        "landing_stands",
        "what the airframe stands at landing",
        1.0,
        "ratio",
        "between practice's upper descent speed and the 101.7 J landing energy limit",
    ),
    Spread(
        "stall",
        "incidence where the fins let go",
        _degrees(2.0),
        "angle",
        "stall of low-aspect plates between 15 and 25 deg",
    ),
    Spread(
        "stable_margin",
        "margin a rocket needs",
        0.25,
        "calibre",
        "neutral at 0, never in trouble at the 1 calibre of practice; between them unmeasured",
    ),
    Spread(
        "shear_modulus",
        "stiffness of the fin material",
        0.15,
        "ratio",
        "plywood panels scatter 10 to 20 %",
        relative=True,
    ),
    Spread(
        "flutter_model",
        "flutter formula",
        0.10,
        "ratio",
        "TN 4197 is a fit by its author; unswept thin plates",
        relative=True,
    ),
    Spread(
        "thrust_floor",
        "thrust a rocket needs to leave straight",
        0.3,
        "ratio",
        "practice: 3 is the floor, 5 the aim",
    ),
)

SPREADS: Final = {spread.key: spread for spread in _ALL}

GUST_PEAK: Final = 2.75
"""Peak factor of a 3 s gust in ten minutes: (1.4375 - 1) / 0.16 from the Coastal Engineering
Manual curve (3 s over 600 s) at its turbulence intensity of 0.15 to 0.17; derived."""
