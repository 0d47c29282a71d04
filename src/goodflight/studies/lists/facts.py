"""What of a planned flight decides which lines of a checklist it needs, and fills their blanks.

A fact is True, False, or None where the project does not say it: the line then stays, marked
"where fitted", because nothing missing may shorten a list.
"""

import math
from collections.abc import Mapping
from typing import Final

from goodflight.physics.flight import registry
from goodflight.physics.motor import grain_item, motor_case_item
from goodflight.physics.vehicle import combine
from goodflight.physics.vehicle.parts import AddedMass, Bay
from goodflight.project.head.separation import RetentionKind
from goodflight.quantity import brief
from goodflight.studies.canopy_name import canopy_words
from goodflight.studies.case.planned import (
    Case,
    canopy_of,
    electronics_bay,
    main_name,
    motor_aft_m,
    separation_of,
)
from goodflight.studies.case.workshop import Device
from goodflight.studies.lists.step import BLANK, Fact

RETENTION: Final[dict[RetentionKind, str]] = {
    "cap": "cap screwed home",
    "clips": "clips over its edge, screws tight",
    "friction": "tape tight, cannot be pulled by hand",
}
PEN: Final = {  # units of places for a pen
    "metric": {"mass_in": "g", "cg_in": "mm", "force_in": "N", "far_in": "m"},
    "imperial": {"mass_in": "lb", "cg_in": "in", "force_in": "lbf", "far_in": "ft"},
}
Facts = Mapping[Fact, bool | None]
Window = tuple[float | None, float | None]  # least and most pull of the separation [N]


def facts_of(case: Case) -> dict[Fact, bool | None]:
    """Which facts hold for a planned flight."""
    held, delay = separation_of(case), case.deployment.by == registry.BY_DELAY
    shortened, protected = case.deployment.delay_out_s > 0.0, held.blanket_m2 is not None
    said = held.blanket_m2 is not None or held.wadding
    own = held.powder_kg is not None or separation_of(case, main=True).powder_kg is not None
    bays = list(case.rocket.of_kind(Bay))
    return {
        "delay": delay,
        "altimeter": not delay,
        "two_canopies": case.deployment.main_canopy is not None,
        "powder": True if own else (False if delay else None),
        "switched": _switched(case, delay),
        "records": _records(case.deployment.devices),
        "pins": held.pins > 0,
        "no_pins": held.pins == 0,
        "shortened": shortened,
        "as_sold": not shortened,
        "ballast": any(part.role == "ballast" for part in case.rocket.of_kind(AddedMass)),
        "blanket": protected if said else None,
        "wadding": held.wadding if said else None,
        "vents": True if any(bay.vent_count for bay in bays) else None,
    }


def _switched(case: Case, delay: bool) -> bool | None:
    """Whether something is switched on: an altimeter, an electronics bay, a device."""
    if not delay or electronics_bay(case.rocket) is not None:
        return True
    if not case.deployment.devices:
        return None
    return any(device.on_board for device in case.deployment.devices)


def _records(devices: tuple[Device, ...]) -> bool | None:
    carried = [device for device in devices if device.on_board and device.records]
    if devices and not carried:
        return False
    return True if any(device.recording_s is not None for device in carried) else None


def fills_of(case: Case, window: Window = (None, None), units: str = "metric") -> dict[str, str]:
    """The figures and names that the lines have places for; a blank where one is not known."""
    held, main = separation_of(case), separation_of(case, main=True)
    canopy, motor = canopy_of(case), case.motor
    aft = motor_aft_m(case.rocket) or 0.0
    whole = combine([*case.items, motor_case_item(motor, aft), grain_item(motor, aft)])
    carried = [device for device in case.deployment.devices if device.on_board]
    recorders = [
        f"{device.name}, which waits for lift-off" if device.from_lift_off else device.name
        for device in carried
        if device.records
    ]
    left = None if motor.delay_s is None else motor.delay_s - case.deployment.delay_out_s
    return {
        "motor": motor.name,
        "canopy": "the canopy" if canopy is None else canopy_words(canopy.name),
        "main": main_name(case) or BLANK,
        "delay_out": _figure(case.deployment.delay_out_s, "time", units),
        "delay_left": _figure(left, "time", units),
        "pins": str(held.pins) if held.pins else BLANK,
        "powder": _figure(held.powder_kg.value if held.powder_kg else None, "powder", units),
        "main_powder": _figure(main.powder_kg.value if main.powder_kg else None, "powder", units),
        "retention": BLANK if held.retention is None else RETENTION[held.retention],
        "pull_min": _figure(window[0], "force", units),
        "pull_max": _figure(window[1], "force", units),
        "mass": _figure(whole.mass_kg, "mass", units),
        "cg": _figure(whole.cg_m, "length", units),
        "rail": _figure(case.rail.length_m, "length", units),
        "tilt": lean_words(case, units),
        "lean": _aim(case),
        "devices": ", ".join(device.name for device in carried) or BLANK,
        "recorders": ", ".join(recorders) or BLANK,
        **PEN[units],
    }


def _figure(value: float | None, kind: str, units: str) -> str:
    return BLANK if value is None or not math.isfinite(value) else brief(value, kind, units)


def lean_words(case: Case, units: str = "metric") -> str:
    """How the rail stands: "upright", "leans 3 deg"."""
    if case.rail.tilt_rad == 0.0:
        return "upright"
    return f"leans {brief(case.rail.tilt_rad, 'angle', units)}"


def _aim(case: Case) -> str:
    if case.rail.tilt_rad == 0.0:
        return "by level or plumb line"
    if case.rail.azimuth_rad is None:
        return "into the wind"
    return f"towards {brief(case.rail.azimuth_rad, 'angle')} from north"
