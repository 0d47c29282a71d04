"""How far the aerodynamic model can be trusted: default spreads and warnings.

Answers: what does the model not know about this shape, and how wide are its answers? The spreads
are one standard deviation and are narrowed by flights.
"""

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.aero.geometry import FinShape, Shape

Array = NDArray[np.float64]

MACH_LIMIT: Final = 1.5
INCIDENCE_LIMIT_RAD: Final = math.radians(25.0)  # past the stall of the fins, as the sources say
TRANSONIC: Final = 0.8


@dataclass(frozen=True)
class ModelSpread:
    """Default spread of the model itself, one standard deviation, with the reasons."""

    cp_length: float = 0.04  # of the small-angle CP as a whole, slopes' part included, in lengths
    cp_cal: float = 0.25  # least of it beyond the slopes' part, in calibres
    axial: float = 0.10  # relative, of the axial force below Mach 0.9
    axial_transonic: float = 0.18  # relative, from Mach 0.9
    slope: float = 0.10  # relative, of body and fin slopes
    crossflow: float = 0.20  # relative, of the cross-flow lift
    cp_reason: str = (
        "build-ups by component are quoted to miss the CP of missiles by 4 (2 to 5) % of their "
        "length in the mean (Moore, from memory); what the slopes move is part of it. Two measured "
        "finned bodies are met within 1.5 %"
    )
    axial_reason: str = (
        "published rules for a square base differ by 0.04 to 0.08 of a total near 0.5; finish, "
        "joints and edge shape of hand-made surfaces add as much"
    )
    slope_reason: str = (
        "moment slope of a finned missile in free flight is met within 0 to 11 %, lifting surfaces "
        "of worked examples within 1 to 2 %; thick and blunt fins of hand-made rockets differ more"
    )
    crossflow_reason: str = (
        "cylinder drag at the transition of the boundary layer and eta of short bodies"
    )


MODEL_SPREAD: Final = ModelSpread()


def _fins_off_body(fins: FinShape, shape: Shape) -> bool:
    """True where the body under the root is not the cylinder the fins were described on."""
    x, r = shape.body.stations_m, shape.body.radii_m
    root_start = (
        fins.quarter_m
        - 0.25 * fins.mean_chord_m
        - (fins.centroid_m - fins.body_radius_m) * fins.tan_lead
    )
    places = np.linspace(root_start + 1e-3 * fins.root_m, root_start + 0.999 * fins.root_m, 5)
    if places[-1] > x[-1] + 1e-3 or places[0] < x[0]:
        return True
    return bool(np.any(np.abs(np.interp(places, x, r) / fins.body_radius_m - 1.0) > 0.03))


def shape_warnings(shape: Shape) -> tuple[str, ...]:
    """Sentences where the method is outside its validity for a shape.

    Parameters
        shape : Shape - body, fins, guides. [-]
    Returns
        warnings : tuple of str - empty if none. [-]
    Validity
        Judges the shape only; speeds are judged by `mach_warning`.
    Source
        Ranges named in the functions.
    Example
        shape_warnings(shape) -> ()
    """
    body, found = shape.body, []
    if body.fineness < 5.0:
        found.append(
            f"The body is {body.fineness:.1f} calibres long; the lift and drag rules hold from "
            "about 5 (base drag, cross-flow). Give the CP a wider spread or measure it."
        )
    if not shape.fins:
        found.append("No fins: the normal force is that of the body alone.")
    for fins in shape.fins:
        if fins.count < 3:
            found.append(
                f"{fins.count} fin(s): stability depends on roll; the mean over roll is used."
            )
        if fins.count > 8:
            found.append(f"{fins.count} fins: crowding beyond eight fins is not known here.")
        if fins.thickness_m > 0.1 * fins.mean_chord_m:
            found.append("Fins thicker than a tenth of their chord: drag rules do not hold.")
        if _fins_off_body(fins, shape):
            found.append(
                "Fins reach off the cylinder they stand on; interference and drag assume a "
                "cylinder along the whole root."
            )
    x, r = body.stations_m, body.radii_m
    h, d = np.diff(x), np.diff(r)
    narrowing = (d < -1e-3 * body.diameter_m) & (-d > np.tan(np.radians(8.0)) * h)
    if np.any(narrowing):
        found.append(
            "The body narrows at more than 8 degrees: the flow separates there, and the lift lost "
            "(and so the CP) is uncertain."
        )
    return tuple(found)


def mach_warning(max_mach: float) -> str | None:
    """A sentence if a flight reaches speeds where the tables are weak, else None.

    Parameters
        max_mach : float - greatest Mach number of the flight. [-]
    Returns
        warning : str or None - what is weak and why. [-]
    Validity
        Model range Mach 0 to 1.5; best below 0.8.
    Source
        Ranges named in the functions.
    Example
        mach_warning(0.5) -> None
    """
    if max_mach > MACH_LIMIT:
        return (
            f"Mach {max_mach:.2f} is beyond the model (Mach {MACH_LIMIT}): drag, CP and fin "
            "loads are not to be relied on."
        )
    if max_mach > TRANSONIC:
        return (
            f"Mach {max_mach:.2f} is in or past the transonic range (from Mach {TRANSONIC}): drag "
            f"is good to about {MODEL_SPREAD.axial_transonic:.0%}, the CP moves, flutter margins "
            "shrink."
        )
    return None


def range_used(max_mach: Array, max_incidence_rad: Array) -> Array:
    """Share of the model's range that a flight uses: above 1 the model has nothing to say.

    Greater of M / MACH_LIMIT and incidence / INCIDENCE_LIMIT_RAD.

    Parameters
        max_mach : array, (n,) - greatest Mach number. [-]
        max_incidence_rad : array, (n,) - greatest incidence after the rail. [rad]
    Returns
        share : array, (n,) - nan only where both are. [-]
    Raises
        nothing
    Validity
        Ranges of the methods used, see the module.
    Source
        Ranges named in the functions.
    Example
        >>> range_used(np.array([0.75]), np.array([0.1])).tolist()
        [0.5]
    """
    mach, incidence = max_mach / MACH_LIMIT, max_incidence_rad / INCIDENCE_LIMIT_RAD
    return np.asarray(np.fmax(mach, incidence))
