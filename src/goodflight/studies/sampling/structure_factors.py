"""Uncertain quantities of structure, glue and devices, and what the rows take of each flight."""

import math
from collections.abc import Callable
from typing import Final

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.structure import cured_share, time_factor
from goodflight.studies.case.planned import Case, fins_of
from goodflight.studies.case.workshop import GluedJoint
from goodflight.studies.sampling.factor import Factor

Array = NDArray[np.float64]
_LEAST_SHARE: Final = 0.1

# key: (words, one standard deviation, dimension, reason, relative)
STRUCTURE: Final[dict[str, tuple[str, float, str, str, bool]]] = {
    "fin_bending": ("bending strength of the fins", 0.15, "ratio",
                    "plywood panels scatter 10 to 20 %", True),
    "ply_shear": ("rolling shear of the plywood", 0.12, "ratio",
                  "2 to 3 MPa for birch plywood, handbooks, memory", True),
    "kraft_ply": ("plies of the paper tube", 0.20, "ratio", "0.3 to 0.6 MPa, memory", True),
    "bond_work": ("workmanship of the bonds", 0.15, "ratio",
                  "sanding, wetting and gaps of a hand-made joint, common practice, no source",
                  True),
    "load_share": ("uneven share of the load", 0.15, "ratio",
                   "the aft part of a swept root and the foremost ring carry more", True),
    "fillet_size": ("size of the fillets", 0.20, "ratio",
                    "drawn by finger; 4 to 8 % of the root chord where nothing is given", True),
    "guide_strength": ("strength of the rail guides", 0.25, "ratio",
                       "screw in wood or plastic, common practice, no source", True),
    "fin_gust": ("gust at greatest speed", 0.40, "ratio",
                 "2 standard deviations of the gusts; the strongest second is not known", True),
    "touch_tilt": ("tilt at touch-down", math.radians(12.0), "angle",
                   "a tail hung from its forward end swings and drifts, no source", False),
    "touch_roll": ("which way the fins point at touch-down", 1.0, "ratio",
                   "any way: even between two fins", False),
    "ground_gives": ("how far the ground gives", 0.25, "ratio",
                     "30 mm of soft soil or stubble, our guess", True),
    "crush": ("strength of the tube's edge", 0.20, "ratio", "15 to 30 MPa, memory", True),
}  # fmt: skip
GLUE: Final[dict[str, tuple[str, float, str, str, bool]]] = {
    "working_time": ("working time of the glue", 0.15, "ratio",
                     "size of the batch and warmth of the cup", True),
    "glue_pace": ("time the glue-up takes", 0.25, "ratio", "first time round", True),
}  # fmt: skip
DEVICES: Final[dict[str, tuple[str, float, str, str, bool]]] = {
    "battery_life": ("run time of the battery", 0.10, "ratio", "age of the cell", True),
    "cold_loss": ("loss of the battery in the cold", 0.30, "ratio",
                  "a fifth at 0 degC, common practice, no source", True),
}  # fmt: skip


def structure_factors(case: Case) -> list[Factor]:
    """Factors of structure, and those of glue, coats and devices where there are any."""
    tables = [STRUCTURE]
    workshop = case.workshop
    if workshop.joints:
        tables.append(GLUE)
    if case.devices:
        tables.append(DEVICES)
    found = [
        Factor(key, words, key, sigma, dimension=dimension, reason=reason, relative=relative)
        for table in tables
        for key, (words, sigma, dimension, reason, relative) in table.items()
    ]
    if workshop.joints:
        first = workshop.joints[0]
        found.append(
            Factor(
                "cure_speed", "how the cure slows in the cold (Ea)", "cure_speed",
                max(j.activation_sigma_j_mol / j.activation_j_mol for j in workshop.joints),
                reason=f"{first.activation_j_mol / 1e3:g} kJ/mol; others 55 to 70 seen",
            )
        )  # fmt: skip
    found += [
        Factor(
            f"warmth:{stay.place}",
            f"temperature of {stay.place}", f"warmth:{stay.place}", stay.sigma_k, stay.known,
            f"build.toml:workplace[{stay.place}].temperature", stay.temperature_k, "temperature",
        )
        for stay in workshop.places()
    ]  # fmt: skip
    if any(coat.humidity is not None for coat in workshop.coats):
        sigma = max(coat.humidity_sigma for coat in workshop.coats)
        found.append(Factor("humidity", "humidity where the paint dries", "humidity", sigma))
    if case.pad_wait_s is not None:
        found.append(
            Factor(
                "pad_wait", "wait at the pad", "pad_wait", case.pad_wait_sigma_s, "guess",
                f"{case.plan_path}.pad_wait", case.pad_wait_s, "time",
            )
        )  # fmt: skip
    return found


def structure_side(
    case: Case, error: Callable[[str], Array], factor: Callable[[str], Array]
) -> dict[str, Array]:
    """What the rows of structure, workmanship and devices take of each flight.

    error : key -> score times standard deviation; factor : key -> 1 + relative error.
    """
    side = {f"{key}_factor": factor(key) for key in STRUCTURE if STRUCTURE[key][4]}
    side["touch_tilt_rad"] = np.abs(error("touch_tilt"))
    side["touch_roll"] = error("touch_roll")
    fins = fins_of(case.rocket)
    if fins is not None:
        errors = np.stack([error(f"cant:{i + 1}") for i in range(fins.count)])
        side["fin_off_rad"] = np.abs(errors).max(axis=0)
        side["fin_cant_rad"] = np.abs(errors + fins.cant_rad).max(axis=0)
    for key in ("battery_life", "cold_loss", "working_time", "glue_pace"):
        side[f"{key}_factor"] = factor(key)
    for number, joint in enumerate(case.workshop.joints):
        side |= _joint_side(number, joint, error, factor)
    side["humidity_error"] = error("humidity")
    if case.pad_wait_s is not None:
        side["pad_wait_s"] = np.maximum(case.pad_wait_s + error("pad_wait"), 0.0)
    for stay in case.workshop.places():
        side[f"warmth:{stay.place}"] = stay.temperature_k + error(f"warmth:{stay.place}")
    return side


def _joint_side(
    number: int,
    joint: GluedJoint,
    error: Callable[[str], Array],
    factor: Callable[[str], Array],
) -> dict[str, Array]:
    if not joint.stays:
        return {}
    warmth = np.stack(
        [stay.temperature_k + error(f"warmth:{stay.place}") for stay in joint.stays], axis=-1
    )
    activation = joint.activation_j_mol * factor("cure_speed")
    found = {f"glued_at_{number}_k": warmth[:, 0]}
    if joint.cure_h is not None:
        hours = np.array([stay.hours for stay in joint.stays])
        found[f"cured_{number}"] = cured_share(
            hours, warmth, joint.cure_h, activation,
            label_temperature_k=joint.reference_k, stops_below_k=joint.least_k,
        )  # fmt: skip
    if joint.working_s is not None:
        slower = time_factor(warmth[:, 0], activation, joint.reference_k)
        found[f"working_{number}_s"] = joint.working_s * slower * factor("working_time")
    return found
