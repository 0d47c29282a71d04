"""Energy of a whole flight, pad to ground: work of every force against kinetic and potential.

Kind: independent code and a law. Path, speeds and turning are the kernel's own history; forces and
moments on them are those of the slow model, friction on the rail and the canopy's area are worked
here. Each part of a flight is held by itself, as power jumps between them.
"""

from collections.abc import Callable
from functools import cache

import numpy as np
import pytest
from flight_cases import CASES
from made_up import parameters
from numpy.typing import NDArray
from slow_flight import rail_frame
from slow_vehicle import SlowVehicle, cross, length

from goodflight.physics.flight import Launch, fly_history
from goodflight.physics.flight.registry import PARAMETERS

Array = NDArray[np.float64]
BY_NAME = {case.name: case for case in CASES}
EVERY_S = 0.001  # friction on the rail is a tenth of a joule of 350
SLIDES, ON_LAST_GUIDE, FREE, FALLS = 0, 1, 2, 3


def axes(q: Array) -> tuple[Array, Array]:
    """Nose and body y in the world, of a unit quaternion (textbook)."""
    w, v = q[0], q[1:]
    return tuple(e + 2.0 * (w * cross(v, e) + cross(v, cross(v, e))) for e in np.eye(3)[:2])


@cache
def flown(name: str) -> tuple[SlowVehicle, Array, Array, Array, dict[str, float]]:
    """A case's vehicle as the slow model knows it; times, phases and states of the kernel's
    history, and its outcomes."""
    case = BY_NAME[name]
    p = parameters(**case.changes)
    row = np.array([p[each] for each in PARAMETERS])
    launch = Launch(case.motor, case.shape, case.deployment, turbulence=False, tolerance=1e-8)
    found = fly_history(launch, row, seed=0, every_s=EVERY_S, room=200000)
    h = found.history
    y = np.column_stack([h[key] for key in list(h)[2:15]])
    return SlowVehicle(p, case.motor, case.shape), h["time_s"], h["phase"], y, found.outcomes


def pairs(within: Array, t: Array, step: int) -> NDArray[np.int64]:
    """Rows in whole pairs of intervals, on even milliseconds: there the thrust has its knots."""
    rows = np.flatnonzero(within)
    rows = rows[round(t[rows[0]] / EVERY_S) % 2 :: step]
    return rows[: len(rows) - 1 + len(rows) % 2]


def powers(v: SlowVehicle, t: float, y: Array, phase: float) -> dict[str, float]:
    """Of each force and moment; the guides' friction is mu N v, across the rail they do none."""
    rail = rail_frame(v.p)[0]
    nose, side = axes(y[6:10])
    omega = y[10] * nose + y[11] * side + y[12] * cross(nose, side)
    seen = (y[0:3], y[3:6], nose, side, omega)
    mass, _, _, _, grows, _ = v.masses(t)
    air, turns = v.air_loads(t, seen)
    push, twist = v.thrust_loads(t, seen)
    weight = np.array([0.0, 0.0, -mass * v.p["gravity_m_s2"]])
    bears = air + push + weight
    held = v.p["rail_friction"] * length(bears - (bears @ rail) * rail) * length(y[3:6])
    held *= phase == SLIDES
    twist = twist - grows * (omega - y[10] * nose)  # what burns takes its turning with it
    return {
        "thrust": push @ y[3:6] + twist @ omega,
        "air": air @ y[3:6] + turns @ omega,
        "gravity": weight @ y[3:6],
        "rail": -held,
    }


def gained_j(v: SlowVehicle, t: Array, y: Array) -> float:
    """Sum of m d(v^2 / 2) + I d(w^2 / 2)."""
    m, _, pitch, roll, *_ = np.array([v.masses(now) for now in t]).T
    found = 0.0
    for by, speed in zip((m, m, m, roll, pitch, pitch), y[:, [3, 4, 5, 10, 11, 12]].T):
        found += np.trapezoid(by, 0.5 * speed**2)
    return float(found)


NAMES = (
    "into the wind",
    "spin from cant",
    "rail across a strong wind, warm high field, early ejection",
)


def holds(t: Array, gained: Callable[[slice], float], each: list[dict[str, float]]) -> None:
    """The trapezoids' own error falls to a quarter with half the interval: what is left at this
    interval is no more than what halving it has changed."""
    left, work = [], {}
    for use in (slice(0, len(t), 2), slice(0, len(t), 1)):
        work = {
            key: float(np.trapezoid([row[key] for row in each[use]], t[use])) for key in each[0]
        }
        left.append(gained(use) - sum(work.values()))
    rounding = 1e-7 * abs(work["gravity"])  # of steps to 1e-8
    assert abs(left[1]) <= abs(left[0] - left[1]) + rounding, (left, work)


@pytest.mark.parametrize("part", ["both guides", "last guide", "burning", "coasting"])
@pytest.mark.parametrize("name", NAMES)
def test_a_rocket_gains_what_thrust_drag_gravity_and_rail_give(name: str, part: str) -> None:
    v, t, phase, y, told = flown(name)
    burnt = told["burnout_s"]
    within = {
        "both guides": (phase == SLIDES) & (t > told["liftoff_s"]),
        "last guide": phase == ON_LAST_GUIDE,
        "burning": (phase == FREE) & (t < burnt - 1e-9),
        "coasting": (phase == FREE) & (t > burnt + 1e-9) & (t < told["ejection_s"]),
    }[part]
    rows = pairs(within, t, 8 if part == "coasting" else 1)
    t, y, phase = t[rows], y[rows], phase[rows]
    each = [powers(v, *row) for row in zip(t, y, phase)]
    holds(t, lambda use: gained_j(v, t[use], y[use]), each)


@pytest.mark.parametrize("name", NAMES)
def test_under_its_canopy_it_loses_what_drag_takes(name: str) -> None:
    """Per kg; the drag area is the tumbling rocket's until the canopy's, which grows from line
    stretch as a square of time and is whole after n D / v."""
    v, t, phase, y, told = flown(name)
    rows = pairs(phase == FALLS, t, 12)
    t, y, p = t[rows], y[rows], v.p
    felt = y[:, 3:6] - [v.wind(up) for up in y[:, 2]]
    through = np.linalg.norm(felt, axis=1)
    stretched = told["ejection_s"] + p["stretch_s"]
    fills = p["canopy_fill"] * p["canopy_diameter_m"] / np.interp(stretched, t, through)
    part = np.clip((t - stretched) / fills, 0.0, 1.0)
    area = np.maximum(p["tumble_area_m2"], p["canopy_area_m2"] * part**2)
    half = np.array([0.5 * v.air(up)[0] for up in y[:, 2]]) / p["dry_mass_kg"]
    drag = -half * area * through * np.sum(felt * y[:, 3:6], axis=1)
    each = [{"drag": d, "gravity": -p["gravity_m_s2"] * c} for d, c in zip(drag, y[:, 5])]
    energy = 0.5 * np.sum(y[:, 3:6] ** 2, axis=1)
    holds(t, lambda use: energy[use][-1] - energy[use][0], each)
