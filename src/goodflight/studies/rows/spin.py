"""Spin from cant and twist against the pitch frequency, and the cant that may be."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from goodflight.physics.flight.registry import AERO_INDEX, AERO_SCALAR_INDEX, MACH_STEP
from goodflight.quantity import show
from goodflight.studies.case.planned import fins_of
from goodflight.studies.rows.model import Array, Evaluation, LimitState, Missing, View
from goodflight.studies.rows.parting import density

DOUBLED: Final = 0.5**0.5  # of the pitch frequency: the trim incidence is twice its still value
# roll lags the falling speed of the coast: until the dynamic pressure is down to a tenth the ratio
# grows by this; from the history of one flight, which a test repeats
COAST: Final = 1.15
_LEAST_CANT_RAD: Final = 1e-5


@dataclass(frozen=True)
class CantLimit:
    """Mean cant at which the spin reaches its limit, as an angle and at the tip's trailing edge."""

    angle_rad: float
    tip_m: float


def pitch_frequency_rad_s(view: View) -> Array:
    """Roll rate that meets the pitch frequency at burnout, (n,) [rad/s].

    sqrt(q S d CNa m / (Iy - Ix)), m the margin in calibres.
    """
    scalars = view.case.tables.scalars
    area = float(scalars[AERO_SCALAR_INDEX["area_m2"]])
    diameter = float(scalars[AERO_SCALAR_INDEX["diameter_m"]])
    speed = np.nan_to_num(view.outcome("burnout_m_s"))
    table = view.case.tables.mach_table
    row = np.clip(np.rint(speed / 340.0 / MACH_STEP).astype(int), 0, table.shape[0] - 1)
    slope = table[row, AERO_INDEX["body_slope"]] * view.parameter("body_slope_factor")
    slope = slope + table[row, AERO_INDEX["fin_slope"]] * view.parameter("fin_slope_factor")
    push = 0.5 * density(view, view.outcome("burnout_m")) * speed**2
    stiff = push * area * diameter * slope * np.maximum(view.outcome("margin_burnout_cal"), 0.0)
    inertia = view.parameter("dry_pitch_inertia_kg_m2") - view.parameter("dry_roll_inertia_kg_m2")
    return np.asarray(np.sqrt(stiff / np.maximum(inertia, 1e-9)))


def spin_ratio(view: View) -> Array:
    """Greatest roll rate over pitch frequency of the flight: burnout's x COAST, (n,) [-]."""
    pitch = pitch_frequency_rad_s(view)
    roll = np.abs(view.outcome("burnout_roll_rad_s"))
    out = np.full(view.count, np.nan)
    np.divide(roll, pitch, out=out, where=pitch > 0.0)
    return COAST * out


def cant_limit(view: View) -> CantLimit | None:
    """Mean cant that brings the spin to its limit: roll goes with mean cant."""
    fins = fins_of(view.case.rocket)
    cant, ratio = np.abs(view.parameter("cant_roll_rad")), spin_ratio(view)
    good = np.isfinite(ratio) & (cant > _LEAST_CANT_RAD)
    if fins is None or not good.any():
        return None
    per_rad = float(np.median(ratio[good] / cant[good]))
    if per_rad <= 0.0:
        return None
    angle = min(DOUBLED / per_rad, 0.5)
    tip = max(corner[1] for corner in fins.outline_m)
    trailing = max(x for x, y in fins.outline_m if y > tip - 1e-9)
    return CantLimit(angle, trailing * float(np.sin(angle)))


def _spin(view: View) -> Evaluation | Missing:
    if fins_of(view.case.rocket) is None:
        return Missing("add the fins")
    limit = np.maximum(DOUBLED + view.error("spin_limit"), 0.3)
    told: tuple[str, ...] = ()
    found = cant_limit(view)
    if found is not None:
        told = (
            f"mean cant of all fins up to {show(found.angle_rad, 'angle')}, "
            f"{show(found.tip_m, 'length', unit='mm', digits=2)} at the tip's trailing edge when "
            "the root's front is on its line",
        )
    return Evaluation(spin_ratio(view), limit, warnings=told)


ROWS = (
    LimitState(
        "spin_pitch", "Spin meets the pitch frequency", "boost", "ratio", True, _spin,
        "roll rate at burnout from cant and twist of the fins / sqrt(q S d CNa margin / (Iy - "
        "Ix)) x 1.15 for the coast, where roll lags the falling speed, "
        "against 0.71 (spread 0.08), where the incidence is doubled, 1 / (1 - ratio^2) = 2",
        "amplification of a spinning trim, derived; roll forcing and damping as the kernel's",
        ("cant:", "model:fin_slope", "model:cp", "mass:"),
    ),
)  # fmt: skip
