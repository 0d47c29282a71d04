"""Python's door to the compiled kernel: an ensemble of flights, or one with its history."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight.burn import burn_curve
from goodflight.physics.flight.forces import NOTED
from goodflight.physics.flight.launch import Launch
from goodflight.physics.flight.loop import fly_all, fly_recorded
from goodflight.physics.flight.ready import make_ready
from goodflight.physics.flight.record import NODES, STATE_COUNT, blank_record
from goodflight.physics.flight.registry import (
    AFTER_ASCENT,
    BY_ALTIMETER,
    OUTCOMES,
    PARAMETER_INDEX,
    PARAMETERS,
)
from goodflight.physics.motor.model import Motor

Array = NDArray[np.float64]
COLUMN_TOPS_M = (2000.0, 4000.0, 8000.0, 16000.0)
RAIL_ALLOWANCE_M = 50.0  # more than any rail is long
_ASCENT = [place for name, place in PARAMETER_INDEX.items() if name not in AFTER_ASCENT]
_STATE_NAMES = (
    "east_m", "north_m", "up_m", "velocity_east_m_s", "velocity_north_m_s", "velocity_up_m_s",
    "attitude_w", "attitude_x", "attitude_y", "attitude_z",
    "roll_rate_rad_s", "pitch_rate_rad_s", "yaw_rate_rad_s",
)  # fmt: skip


@dataclass(frozen=True)
class Recorded:
    """One flight's outcomes by name, and its history: name with unit -> (n,) array."""

    outcomes: dict[str, float]
    history: dict[str, Array]


def column_spacing(parameters: Array, motor: Motor) -> float:
    """Spacing of the air column's nodes: the lowest rung above what any flight can reach.

    A vacuum bound on height, dv^2 / 2g, so coarse that flights of one study share a rung.

    Parameters
        parameters : (n, len(PARAMETERS)) - one flight a row, columns in `registry`. [SI]
        motor : Motor - thrust curve and propellant. [SI]
    Returns
        spacing : float - in the fourth root of height. [m^0.25]
    Source
        derived; a bound without drag.
    """
    column = PARAMETER_INDEX
    impulse = float(burn_curve(motor)[-1, 2]) * parameters[:, column["thrust_factor"]]
    speed = impulse / parameters[:, column["dry_mass_kg"]]
    bound = float(np.max(speed**2 / (2.0 * parameters[:, column["gravity_m_s2"]])))
    bound += float(np.max(parameters[:, column["rail_base_m"]])) + RAIL_ALLOWANCE_M
    top = next((rung for rung in COLUMN_TOPS_M if rung > bound), bound)
    return float(top**0.25) / (NODES - 1)


def _checked(parameters: Array, seeds: NDArray[np.uint64]) -> Array:
    rows = np.ascontiguousarray(parameters, dtype=np.float64)
    if rows.ndim != 2 or rows.shape[1] != len(PARAMETERS):
        raise ValueError(f"parameters must be (n, {len(PARAMETERS)}), found {rows.shape}")
    if seeds.shape != (len(rows),):
        raise ValueError(f"seeds must be ({len(rows)},), found {seeds.shape}")
    bad = [PARAMETERS[i] for i in np.flatnonzero(~np.isfinite(rows).all(axis=0))]
    if bad:
        raise ValueError(f"parameters must be finite numbers, found other values in {bad}")
    return rows


def _blank(launch: Launch, rows: Array) -> Array:
    spacing = launch.node_spacing_m4 or column_spacing(rows, launch.motor)
    tables = launch.tables
    return blank_record(burn_curve(launch.motor), tables.mach_table, tables.scalars, spacing)


def _alike(
    rows: Array, seeds: NDArray[np.uint64], deployment: int
) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """An order in which flights with the same way up stand together, the first to eject first.

    Beside it where each run of them starts, and the end.
    """
    count = len(rows)
    if np.unique(seeds).size == count:
        return np.arange(count), np.arange(count + 1)
    ascents: dict[bytes, int] = {}
    figures = np.column_stack([rows[:, _ASCENT].view(np.uint64), seeds.astype(np.uint64)])
    number = np.array([ascents.setdefault(row.tobytes(), len(ascents)) for row in figures])
    moment = "apogee_lag_s" if deployment == BY_ALTIMETER else "delay_s"
    order = np.lexsort((rows[:, PARAMETER_INDEX[moment]], number))
    starts = np.flatnonzero(np.diff(number[order], prepend=-1))
    return order, np.append(starts, count)


def fly_ensemble(launch: Launch, parameters: Array, seeds: NDArray[np.uint64]) -> Array:
    """Fly every row of the parameters, pad to ground.

    Six degrees of freedom to ejection, then a point mass under its canopies; see `forces`, `rail`,
    `descent` for the equations. Rows with one seed that differ in `AFTER_ASCENT` alone share their
    way up, and under full canopies of one size their way down: until these are full each comes to
    what it would alone, bit for bit; then landings move by less than the steps are off.

    Parameters
        launch : Launch - what all of them share. [SI]
        parameters : (n, len(PARAMETERS)) - one flight a row, columns in `registry`. [SI]
        seeds : (n,) uint64 - one per flight, for its turbulence. [-]
    Returns
        outcomes : (n, len(OUTCOMES)) - columns in `registry`, NaN where a thing did not happen.
    Raises
        ValueError - an array of another shape, or a parameter that is not finite.
    Validity
        Mach 0 ... 2 by table; heights to 16 km; flat ground, constant gravity.
    Source
        see the modules named above.
    """
    rows = _checked(parameters, seeds)
    order, starts = _alike(rows, seeds, launch.deployment)
    result = np.empty((len(rows), len(OUTCOMES)))
    make_ready()
    result[order] = fly_all(
        rows[order], _blank(launch, rows), seeds.astype(np.uint64)[order], starts, launch
    )
    return result


def fly_history(
    launch: Launch, parameters: Array, seed: int = 1, every_s: float = 0.05, room: int = 20000
) -> Recorded:
    """Fly one row of parameters and keep its history at regular moments.

    Parameters
        launch : Launch - how it is flown; an ensemble's own spacing of the air column's nodes
            gives the gusts that the flight has there. [SI]
        parameters : (len(PARAMETERS),) - one flight, columns in `registry`. [SI]
        seed : int - of the turbulence. [-]
        every_s : float - spacing of the history. [s]
        room : int - most rows of the history. [-]
    Returns
        recorded : Recorded - outcomes and history by name, each name ending in its unit; phase
            counts 0 sliding, 1 on the last guide, 2 free, 3 after ejection. [SI]
    Raises
        ValueError - an array of another shape, or a parameter that is not finite.
    Source
        see fly_ensemble.
    """
    seeds = np.array([seed], dtype=np.uint64)
    rows = _checked(np.asarray(parameters)[None, :], seeds)
    make_ready()
    blank = _blank(launch, rows)
    out, record = fly_recorded(rows[0], blank, seed, launch, every=every_s, room=room)
    names = ("time_s", "phase", *_STATE_NAMES, *NOTED)
    assert record.shape[1] == 2 + STATE_COUNT + len(NOTED)
    return Recorded(
        outcomes=dict(zip(OUTCOMES, map(float, out), strict=True)),
        history={name: record[:, i].copy() for i, name in enumerate(names)},
    )
