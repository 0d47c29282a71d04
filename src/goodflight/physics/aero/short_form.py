"""The short form of the centre of pressure, which the rule of thumb of one calibre grew up with.

Answers: where does the CP lie by the equations that most rockets are checked with? At rest, no
apparent mass, and the fins' lift on the body left out. The flight uses the long form (`body`,
`fins`); this one only stands beside it. That the rule goes with the short form is our inference.
"""

from typing import Final

import numpy as np

from goodflight.physics.aero.body import segment_sums
from goodflight.physics.aero.fins import subsonic_slope
from goodflight.physics.aero.geometry import Shape

PRACTICE_MARGIN_CAL: Final = 1.0  # common practice, no source


def short_form_cp_m(shape: Shape) -> float:
    """Centre of pressure at small incidence by the short form.

    Bodies 2 dA / S for every change of section; n fins n / 2 times the slope of two panels joined,
    times 1 + r / s (s semi-span from the axis), at the mean quarter chord.

    Parameters
        shape : Shape - body and fins. [-]
    Returns
        station : float - from the nose tip; nan where nothing lifts. [m]
    Validity
        At rest. 0.4 to 0.8 calibres ahead of the long form with usual fins.
    Source
        [barrowman1967] sections 3 and 4 (memory).
    Example
        short_form_cp_m(rocket_shape(rocket)) -> 0.8987
    """
    body = shape.body
    zeroth, first, _ = segment_sums(body.stations_m, body.radii_m)
    slope = 2.0 * float(np.sum(zeroth)) / body.area_m2
    moment = 2.0 * float(np.sum(first)) / body.area_m2
    for fins in shape.fins:
        pair = float(subsonic_slope(fins.aspect, fins.tan_half, 0.0)) * fins.area_m2 / body.area_m2
        each = 0.5 * fins.count * pair * (1.0 + 1.0 / fins.tau)
        slope, moment = slope + each, moment + each * fins.quarter_m
    return moment / slope if slope > 0.0 else float("nan")
