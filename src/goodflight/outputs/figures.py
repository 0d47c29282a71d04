"""The named figures of a flight: words, place on the sheet, dimension taken from the suffix."""

import math
from typing import Final

from goodflight.quantity import DIMENSIONS, show

# the unit in which sizes of parts, distances and light masses are told, and the first in full
SIZE_UNIT: Final = {"metric": "mm", "imperial": "in"}
SIZE_UNIT_NAME: Final = {"metric": "mm", "imperial": "inches"}
FAR_UNIT: Final = {"metric": "m", "imperial": "ft"}
LIGHT_UNIT: Final = {"metric": "g", "imperial": "oz"}

SUFFIXES: Final[tuple[tuple[str, str], ...]] = (  # the longer suffix stands first
    ("_kg_m2", "inertia"),
    ("_rad_s", "angular_rate"),
    ("_m_s2", "acceleration"),
    ("_wind_m_s", "wind"),
    ("_m_s", "speed"),
    ("_rad", "angle"),
    ("_cal", "calibre"),
    ("_kg", "mass"),
    ("_pa", "pressure"),
    ("_ns", "impulse"),
    ("_m2", "area"),
    ("_j", "energy"),
    ("_k", "temperature"),
    ("_n", "force"),
    ("_s", "time"),
    ("_m", "length"),
)

# name -> (part of the flight, words); heights are above the pad, stations from the nose tip
FIGURES: Final[dict[str, tuple[str, str]]] = {
    "liftoff_mass_kg": ("Before lift-off", "mass ready to fly"),
    "dry_mass_kg": ("Before lift-off", "mass without propellant"),
    "cg_liftoff_m": ("Before lift-off", "centre of gravity, from the nose tip"),
    "cp_m": ("Before lift-off", "centre of pressure at small angle, from the nose tip"),
    "margin_liftoff_cal": (
        "Before lift-off",
        "static margin, the fins' lift on the body counted",
    ),
    "pitch_inertia_kg_m2": ("Before lift-off", "pitch inertia"),
    "thrust_to_weight": ("Pad and rail", "thrust to weight, first half second"),
    "thrust_to_weight_mean": ("Pad and rail", "thrust to weight, whole burn"),
    "liftoff_s": ("Pad and rail", "first motion"),
    "guide_exit_s": ("Pad and rail", "forward guide leaves the rail"),
    "guide_exit_m_s": ("Pad and rail", "speed when the forward guide leaves"),
    "rail_exit_s": ("Pad and rail", "last guide leaves the rail"),
    "rail_exit_m_s": ("Pad and rail", "speed at rail exit"),
    "rail_exit_wind_m_s": ("Pad and rail", "wind across the rocket at rail exit"),
    "rail_exit_incidence_rad": ("Pad and rail", "angle of attack at rail exit"),
    "rail_exit_rate_rad_s": ("Pad and rail", "turning rate at rail exit"),
    "margin_exit_cal": ("Pad and rail", "static margin at rail exit, small angle"),
    "margin_exit_incidence_cal": (
        "Pad and rail",
        "static margin at rail exit, at its angle of attack",
    ),
    "max_acceleration_m_s2": ("Boost", "highest acceleration"),
    "max_speed_m_s": ("Boost", "highest speed"),
    "max_speed_s": ("Boost", "time of highest speed"),
    "max_speed_height_m": ("Boost", "height of highest speed"),
    "max_mach": ("Boost", "highest Mach number"),
    "max_pressure_pa": ("Boost", "highest dynamic pressure"),
    "max_incidence_rad": ("Boost", "highest angle of attack"),
    "min_margin_cal": ("Boost", "lowest static margin of the burn"),
    "min_margin_s": ("Boost", "time of lowest static margin"),
    "min_margin_incidence_cal": ("Boost", "lowest static margin at the angle of attack flown"),
    "burnout_s": ("Boost", "burnout"),
    "burnout_m": ("Boost", "height at burnout"),
    "burnout_m_s": ("Boost", "speed at burnout"),
    "burnout_roll_rad_s": ("Boost", "roll rate at burnout"),
    "burnout_tilt_rad": ("Boost", "lean from vertical at burnout"),
    "max_roll_rad_s": ("Boost", "highest roll rate"),
    "cg_burnout_m": ("Boost", "centre of gravity at burnout, from the nose tip"),
    "margin_burnout_cal": ("Boost", "static margin at burnout"),
    "apogee_m": ("Apogee", "height of apogee"),
    "apogee_s": ("Apogee", "time of apogee"),
    "apogee_m_s": ("Apogee", "air speed at apogee"),
    "max_spin_ratio": ("Boost", "highest roll rate over that of the nose's own swing"),
    "spin_incidence_rad": ("Boost", "highest angle of attack while that is a half or more"),
    "max_side_load_n": ("Boost", "highest side load of the air"),
    "apogee_east_m_s": ("Apogee", "speed to the east at apogee"),
    "apogee_north_m_s": ("Apogee", "speed to the north at apogee"),
    "apogee_east_m": ("Apogee", "apogee east of the pad"),
    "apogee_north_m": ("Apogee", "apogee north of the pad"),
    "ejection_s": ("Deployment", "ejection"),
    "ejection_after_apogee_s": ("Deployment", "ejection after apogee"),
    "ejection_m": ("Deployment", "height at ejection"),
    "ejection_m_s": ("Deployment", "air speed at ejection"),
    "ejection_climb_m_s": ("Deployment", "climb at ejection, up positive"),
    "opening_m_s": ("Deployment", "air speed when the lines are straight"),
    "opening_m": ("Deployment", "height when the lines are straight"),
    "opening_force_n": ("Deployment", "highest canopy force"),
    "main_s": ("Deployment", "charge of the second canopy"),
    "main_m": ("Deployment", "height at the second canopy's charge"),
    "main_opening_m_s": ("Deployment", "air speed at the second opening"),
    "main_opening_force_n": ("Deployment", "highest force of the second canopy"),
    "descent_m_s": ("Descent and landing", "descent speed at the ground"),
    "landing_s": ("Descent and landing", "landing"),
    "landing_m_s": ("Descent and landing", "speed over ground at landing"),
    "landing_east_m": ("Descent and landing", "landing, east of the pad"),
    "landing_north_m": ("Descent and landing", "landing, north of the pad"),
    "landing_distance_m": ("Descent and landing", "distance of the landing from the pad"),
    "landing_bearing_rad": ("Descent and landing", "bearing of the landing, from north"),
    "ballistic_landing_east_m": ("If no parachute opens", "landing, east of the pad"),
    "ballistic_landing_north_m": ("If no parachute opens", "landing, north of the pad"),
    "ballistic_landing_m_s": ("If no parachute opens", "speed at the ground, nose first"),
}
OTHER: Final = "Further figures"


def dimension(name: str) -> str:
    """The dimension a name carries in its suffix; "ratio" when it carries none."""
    return next((kind for suffix, kind in SUFFIXES if name.endswith(suffix)), "ratio")


def words(name: str) -> tuple[str, str]:
    """Part of the flight and words of a figure; an unlisted name is still readable."""
    if name in FIGURES:
        return FIGURES[name]
    suffix = next((suffix for suffix, _ in SUFFIXES if name.endswith(suffix)), "")
    return OTHER, name.removesuffix(suffix).replace("_", " ")


def figure(value: float | None, kind: str, units: str = "metric") -> str:
    """One value with its unit; a bare number where the kind has no unit."""
    if value is None or not math.isfinite(value):
        return "-"
    if kind in ("ratio", "count") or kind not in DIMENSIONS:
        return f"{value:.0f}" if abs(value) >= 999.5 else f"{value:.3g}"
    return show(value, kind, units)
