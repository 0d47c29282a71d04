"""A flight's record at a moment chosen by a test: the invented rocket, a plain motor, one step.

The pieces of the kernel stand here in plain Python: to compile each as a test calls it would take
longer than all the tests. Whole flights elsewhere are the compiled ones.
"""

import importlib
import math
import sys
from types import SimpleNamespace
from typing import Any

import numpy as np
from numpy.typing import NDArray

import goodflight.physics
from goodflight.physics.flight import compiled
from goodflight.physics.flight.burn import burn_curve
from goodflight.physics.flight.record import (
    AHEAD,
    EJECT,
    STAGES,
    STRETCH_FIRST,
    STRETCH_SECOND,
    WIDE,
    K,
    Y,
    blank_record,
)
from goodflight.physics.flight.registry import OUTCOME_INDEX, OUTCOMES, PARAMETER_INDEX
from goodflight.physics.flight.sample import sample_flight
from goodflight.physics.flight.stepper import MOMENTS
from goodflight.physics.motor.model import Motor
from new_record import new_flight

PACKAGE = "goodflight.physics.flight"
MARKS = ("compiled", "compiled_inside", "compiled_per_constant", "compiled_owner")
PIECES = (
    "alike",
    "burn",
    "column",
    "descent",
    "events",
    "fall",
    "forces",
    "history",
    "inside",
    "kernel",
    "loop",
    "monitor",
    "pad",
    "record",
    "stepper",
)


def plain_pieces() -> Any:
    """Copies of the kernel's modules whose functions are left as they are written."""
    kept = {name: module for name, module in sys.modules.items() if name.startswith(PACKAGE)}
    marked = {mark: getattr(compiled, mark) for mark in MARKS}
    for name in kept:
        if name != f"{PACKAGE}.compiled":
            del sys.modules[name]
    try:
        for mark in MARKS:
            setattr(compiled, mark, lambda function: function)
        found = {name: importlib.import_module(f"{PACKAGE}.{name}") for name in PIECES}
    finally:
        for mark, function in marked.items():
            setattr(compiled, mark, function)
        for name in [each for each in sys.modules if each.startswith(PACKAGE)]:
            del sys.modules[name]  # those that nobody had imported yet too
        sys.modules.update(kept)
        goodflight.physics.flight = kept[PACKAGE]
    return SimpleNamespace(**found)


plain = plain_pieces()
STRETCH, FILL = plain.descent.STRETCH, plain.descent.FILL
Record = NDArray[np.float64]
TABLES = sample_flight()[2]
RAMP = Motor(  # 15 N s: 5 in the first second, 10 in the other two
    "invented",
    (0.0, 1.0, 3.0),
    (0.0, 10.0, 0.0),
    propellant_kg=0.5,
    loaded_kg=1.0,
    length_m=0.1,
    diameter_m=0.03,
    delay_s=5.0,
)


def record(motor: Motor = RAMP, air: bool = False, /, **changes: float) -> Record:
    """A flight's record, its parameters those of the invented rocket but for changes."""
    p, _, _ = sample_flight()
    for name, value in changes.items():
        p[PARAMETER_INDEX[name]] = value
    spacing = 2000.0**0.25 / 127.0
    w: Record = new_flight(
        p, blank_record(burn_curve(motor), TABLES.mach_table, TABLES.scalars, spacing)
    )
    if air:
        plain.column.fill_column(w, plain.column.ladder(spacing), np.uint64(1), False)
    w[STRETCH_FIRST] = w[STRETCH_SECOND] = w[STRETCH] = w[STRETCH + 2] = w[EJECT] = math.inf
    w[Y + 6] = w[FILL] = w[FILL + 2] = 1.0
    return w


def told(out: Record, *names: str) -> list[float]:
    return [float(out[OUTCOME_INDEX[name]]) for name in names]


def blank() -> Record:
    out = np.full(len(OUTCOMES), 7.0)
    plain.monitor.start_notes(out)
    return out


def moment() -> Record:
    """At (10, 20, 30) m with (3, 4, 12) m/s, that is 13 m/s, turning by -6, 0.3 and 0.4 rad/s."""
    w = record()
    w[Y : Y + 6] = 10.0, 20.0, 30.0, 3.0, 4.0, 12.0
    w[Y + 10 : Y + 13] = -6.0, 0.3, 0.4
    w[plain.forces.SPEED], w[plain.forces.SIN2], w[plain.forces.ALONG] = 20.0, 0.25, 0.05
    w[plain.forces.MARGIN], w[plain.forces.MARGIN_INCIDENCE] = 1.5, 1.2
    return w


def fall(w: Record, step: float, climb_m_s2: float = -10.0) -> None:
    """One step under constant acceleration: rates of each stage, and the state at its end."""
    for row in range(STAGES):
        at, after_s = K + WIDE * row, MOMENTS[row] * step
        w[at : at + 3] = w[Y + 3 : Y + 6]
        w[at + 2] += climb_m_s2 * after_s
        w[at + 5] = climb_m_s2
    w[AHEAD : AHEAD + WIDE] = w[Y : Y + WIDE]
    w[AHEAD : AHEAD + 3] += w[Y + 3 : Y + 6] * step
    w[AHEAD + 2] += 0.5 * climb_m_s2 * step**2
    w[AHEAD + 5] += climb_m_s2 * step
