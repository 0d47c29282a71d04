"""Uncertain quantities of separation, cord, vents and spin: columns of scores and their names."""

from dataclasses import fields
from typing import Final

from goodflight.physics.vehicle.separation import Figure, Separation
from goodflight.studies.case.planned import Case
from goodflight.studies.sampling.factor import Factor, assumed
from goodflight.studies.sampling.recovery_spreads import RECOVERY_SPREADS

# field of the record -> words, dimension
LABELS: Final[dict[str, tuple[str, str]]] = {
    "pull_n": ("pull to separate", "force"),
    "clearance_m": ("gap around the coupler", "length"),
    "fore_anchor_n": ("forward anchor of the cord", "force"),
    "aft_anchor_n": ("aft anchor of the cord", "force"),
    "bulkhead_n": ("bulkhead ahead of the bay", "force"),
    "fixed_joint_n": ("joint that must stay", "force"),
    "edge_strength_pa": ("strength of the tube's edge", "pressure"),
    "powder_kg": ("own powder", "mass"),
    "blanket_m2": ("heat blanket", "area"),
    "pack_pull_n": ("pull that flights the pack out", "force"),
    "retention_n": ("retention of the motor", "force"),
}


def separation_figures(separation: Separation) -> dict[str, Figure]:
    """Every given figure of the record by its field."""
    found = {field.name: getattr(separation, field.name) for field in fields(separation)}
    return {name: value for name, value in found.items() if isinstance(value, Figure)}


def recovery_factors(case: Case) -> list[Factor]:
    """Factors of a rocket that comes apart at a known station; none without one."""
    found = [assumed(RECOVERY_SPREADS["spin_limit"]), assumed(RECOVERY_SPREADS["vent_rule"])]
    if case.main_canopy is not None:
        found += [
            assumed(RECOVERY_SPREADS["main_strength"]),
            assumed(RECOVERY_SPREADS["main_speed"]),
        ]
    if case.rocket.separation_station_m is None:
        return found
    given = separation_figures(case.rocket.separation)
    for name, figure in given.items():
        label, dimension = LABELS[name]
        key = f"given:{name}"
        found.append(
            Factor(
                key, label, key, figure.sigma, figure.known, figure.path, figure.value, dimension
            )
        )
    left_out = {"clearance": "clearance_m", "pack_friction": "pack_pull_n"}
    for key in RECOVERY_SPREADS:
        if key in ("spin_limit", "vent_rule", "main_strength", "main_speed", "motor_charge"):
            continue
        if left_out.get(key) not in given:
            found.append(assumed(RECOVERY_SPREADS[key]))
    motor = case.motor
    if motor.charge_kg is not None:
        spread = RECOVERY_SPREADS["motor_charge"]
        sigma = motor.charge_sigma_kg or spread.sigma * motor.charge_kg
        found.append(
            Factor("motor_charge", spread.label, "motor_charge", sigma, motor.known, "",
                   motor.charge_kg, "mass", spread.reason)
        )  # fmt: skip
    return found
