"""A vehicle's aerodynamics, tabulated once: what the flight reads at every step.

Answers: normal force, its centre, axial force and roll of this rocket at every Mach number. Sums
the parts in `body`, `fins`, `drag`, `fin_drag`; left out are fins that sit on a cone, wakes of
one fin set on the next, and everything at large incidence that `margin` does not name.
"""

import math
from collections.abc import Mapping
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple, TypeVar

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import SEA_LEVEL_PRESSURE_PA, SEA_LEVEL_TEMPERATURE_K
from goodflight.physics.aero import drag
from goodflight.physics.aero.base import base_drag, tail_drag
from goodflight.physics.aero.body import SlopeSums, body_slope
from goodflight.physics.aero.crossflow import crossflow_eta
from goodflight.physics.aero.fin_drag import Shapes, fin_drag, shapes_of
from goodflight.physics.aero.fins import FinForces, fin_forces, fin_stall
from goodflight.physics.aero.friction import friction_coefficient
from goodflight.physics.aero.geometry import (
    BodyShape,
    FinShape,
    Shape,
    fins_shape,
    rocket_shape,
)
from goodflight.physics.aero.tables import AeroTables
from goodflight.physics.aero.validity import MODEL_SPREAD, shape_warnings
from goodflight.physics.air.atmosphere import atmosphere
from goodflight.physics.flight.registry import (
    AERO_COLUMNS,
    AERO_INDEX,
    AERO_SCALAR_INDEX,
    AERO_SCALARS,
    MACH_COUNT,
    MACH_STEP,
)
from goodflight.physics.vehicle.fins import shaped_unsaid
from goodflight.physics.vehicle.part import Part
from goodflight.physics.vehicle.parts import Fins, Rocket

Array = NDArray[np.float64]
Arrays = TypeVar("Arrays", bound=tuple[Array, ...])
UPPER_M = 3000.0  # height of the second axial column
MIN_MACH = 0.02  # Reynolds numbers are not taken below this speed


class AxialForce(NamedTuple):
    """Axial force coefficient at zero incidence, and the base's part of it."""

    total: Array
    base: Array


class Summary(NamedTuple):
    """A vehicle at one Mach number."""

    fin_slope: float  # [1/rad]
    body_slope: float  # [1/rad]
    cp_m: float  # small incidence
    axial: float  # coasting, at the pad


def axial_force(shape: Shape, mach: Array, reynolds_per_m: Array) -> AxialForce:
    """Axial force coefficient at zero incidence, motor out, on the greatest section.

    Sum of body friction and form, nose, other changes of section, base, fins, guides.

    Parameters
        shape : Shape - body, fins, guides, finish. [-]
        mach : array (m,) - Mach number. [-]
        reynolds_per_m : array (m,) - Reynolds number per metre of length. [1/m]
    Returns
        axial : AxialForce - total and base part on the greatest section; arrays (m,). [-]
    Validity
        Mach 0 to 2; 10 % at low Mach, 15 to 20 % from Mach 0.9.
    Source
        See `drag`, `base` and `fin_drag`.
    Example
        axial_force(shape, mach, re).total
    """
    body, rough = shape.body, max(shape.roughness_m, 1e-9)
    air = mach.tobytes(), reynolds_per_m.tobytes(), rough
    total, base = _body_drag(body, *air)
    for fins in shape.fins:
        total = total + _fin_drag(fins, *air, body.area_m2)
    return AxialForce(total + drag.guide_drag(shape.guides, body.area_m2), base)


# What one length changes is body or fins: the other half is remembered. Arrays come as bytes.


@lru_cache(maxsize=256)
def _body_drag(body: BodyShape, mach: bytes, reynolds_per_m: bytes, rough_m: float) -> AxialForce:
    """Axial force of the body alone, and the base's part of it."""
    m, per_m = np.frombuffer(mach), np.frombuffer(reynolds_per_m)
    cf = friction_coefficient(per_m * body.length_m, m, body.length_m / rough_m)
    rubbing = drag.body_friction(cf, body.fineness, body.wetted_m2, body.area_m2)
    base = base_drag(m, body)
    total = rubbing + base + tail_drag(m, body)
    return _kept(AxialForce(total + drag.nose_drag(body, m) + drag.outline_drag(body, m), base))


@lru_cache(maxsize=256)
def _fin_drag(
    fins: FinShape, mach: bytes, reynolds_per_m: bytes, rough_m: float, area_m2: float
) -> Array:
    """Drag of a fin set."""
    m, chord = np.frombuffer(mach), fins.mean_chord_m
    cf = friction_coefficient(np.frombuffer(reynolds_per_m) * chord, m, chord / rough_m)
    return _kept((fin_drag(fins, m, cf, area_m2),))[0]


@lru_cache(maxsize=256)
def _fin_forces(fins: FinShape, mach: bytes, area_m2: float, length_m: float) -> FinForces:
    """Forces of a fin set."""
    return _kept(fin_forces(fins, np.frombuffer(mach), area_m2, length_m))


@lru_cache(maxsize=256)
def _body_slope(body: BodyShape, mach: bytes) -> SlopeSums:
    """Slope of a body."""
    return _kept(body_slope(body, np.frombuffer(mach)))


def _kept(arrays: Arrays) -> Arrays:
    """The same arrays, which nobody can change from here on."""
    for each in arrays:
        each.setflags(write=False)
    return arrays


def _reynolds_per_m(
    mach: Array, height_m: float, temperature_k: float, pressure_pa: float
) -> Array:
    air = atmosphere(height_m, temperature_k, pressure_pa)
    unit = float(air.density_kg_m3 * air.sound_m_s / air.viscosity_pa_s)
    return np.maximum(mach, MIN_MACH) * unit


def _fin_set(shape: Shape, mach: Array) -> FinForces:
    """All fin sets together; slopes add, the CP is weighted with slope."""
    zero = np.zeros_like(mach)
    if not shape.fins:
        return FinForces(zero, zero + shape.body.length_m, zero, zero, zero)
    body = shape.body
    at, reference = mach.tobytes(), (body.area_m2, body.diameter_m)
    sets = [_fin_forces(fins, at, *reference) for fins in shape.fins]
    if len(sets) == 1:
        return sets[0]
    slope = np.sum([s.slope for s in sets], axis=0)
    moment = np.sum([s.slope * s.cp_m for s in sets], axis=0)
    side, force, damp = (np.sum([s[i] for s in sets], axis=0) for i in (2, 3, 4))
    return FinForces(slope, moment / slope, side, force, damp)


def _scalars(shape: Shape) -> Array:
    """The numbers that do not depend on Mach number, in the registry's order."""
    body = shape.body
    stalls = [fin_stall(f) for f in shape.fins]
    plate = sum(s[2] for s in stalls)
    start, end = (
        sum(s[i] * s[2] for s in stalls) / plate if plate > 0.0 else 1.0 + i for i in (0, 1)
    )
    values = {
        "area_m2": body.area_m2,
        "diameter_m": body.diameter_m,
        "length_m": body.length_m,
        "planform_m2": body.planform_m2,
        "planform_cp_m": body.planform_cp_m,
        "crossflow_eta": float(crossflow_eta(body.fineness)),
        "fin_stall_start_sin2": start,
        "fin_stall_end_sin2": end,
        "fin_plate_m2": plate,
    }
    result = np.empty(len(AERO_SCALARS))
    for name, value in values.items():
        result[AERO_SCALAR_INDEX[name]] = value
    return result


def shape_tables(
    shape: Shape,
    motor_diameter_m: float | None = None,
    ground_temperature_k: float = SEA_LEVEL_TEMPERATURE_K,
    ground_pressure_pa: float = SEA_LEVEL_PRESSURE_PA,
) -> AeroTables:
    """Aerodynamic tables of a shape, for geometries that are not a rocket's parts.

    Parameters
        shape : Shape - body, fins, guides, finish. [-]
        motor_diameter_m : float or None - jet area taken off the base; None = no relief. [m]
        ground_temperature_k : float - at the pad, for Reynolds numbers. [K]
        ground_pressure_pa : float - at the pad. [Pa]
    Returns
        tables : AeroTables - see the registry for columns. [-]
    Validity
        Mach 0 to 1.5, carried on to 2; see its warnings.
    Source
        See the parts.
    Example
        shape_tables(shape).mach_table.shape -> (101, 11)
    """
    mach: Array = np.arange(MACH_COUNT, dtype=np.float64) * MACH_STEP
    ground = (ground_temperature_k, ground_pressure_pa)
    body, fins = _body_slope(shape.body, mach.tobytes()), _fin_set(shape, mach)
    low = axial_force(shape, mach, _reynolds_per_m(mach, 0.0, *ground))
    high = axial_force(shape, mach, _reynolds_per_m(mach, UPPER_M, *ground))
    jet = min((motor_diameter_m or 0.0) / 2.0, shape.body.base_radius_m)
    base_area = shape.body.base_radius_m**2
    columns = {
        "body_slope": body.slope,
        "body_moment_m": body.moment_m,
        "body_second_m2": body.second_m2,
        "fin_slope": fins.slope,
        "fin_cp_m": fins.cp_m,
        "axial_low": low.total,
        "axial_high": high.total,
        "axial_burn": low.base * (jet**2 / base_area if base_area > 0.0 else 0.0),
        "roll_force": fins.roll_force,
        "roll_damp": fins.roll_damp,
        "fin_side": fins.side,
    }
    table = np.empty((MACH_COUNT, len(AERO_COLUMNS)))
    for name, column in columns.items():
        table[:, AERO_INDEX[name]] = column
    return AeroTables(table, _scalars(shape), shape_warnings(shape))


def aero_tables(
    rocket: Rocket,
    motor_diameter_m: float | None = None,
    ground_temperature_k: float = SEA_LEVEL_TEMPERATURE_K,
    ground_pressure_pa: float = SEA_LEVEL_PRESSURE_PA,
) -> AeroTables:
    """Aerodynamic tables of a rocket, for its flight.

    Parameters
        rocket : Rocket - all parts. [-]
        motor_diameter_m : float or None - jet area taken off the base; None = no relief. [m]
        ground_temperature_k : float - at the pad, for Reynolds numbers. [K]
        ground_pressure_pa : float - at the pad. [Pa]
    Returns
        tables : AeroTables - Mach rows, scalars, warnings. [-]
    Raises
        ValueError - body or fins that enclose nothing.
    Validity
        Mach 0 to 1.5, carried on to 2; see its warnings.
    Source
        See the parts.
    Example
        aero_tables(rocket, 0.038).warnings
    """
    return shape_tables(
        rocket_shape(rocket), motor_diameter_m, ground_temperature_k, ground_pressure_pa
    )


class CpSpread(NamedTuple):
    """One standard deviation of the small-angle CP: what the slopes move, and the rest."""

    slopes_m: float
    rest_m: float

    @property
    def whole_m(self) -> float:
        """Both together [m]."""
        return math.hypot(self.slopes_m, self.rest_m)


def cp_spread(rocket: Rocket, mach: float = 0.3) -> CpSpread:
    """How far the model may miss the centre of pressure.

    Slopes of body and fins spread by themselves move it by their ratio; the rest fills up to the
    share of the length that is quoted for build-ups by component.

    Parameters
        rocket : Rocket - all parts. [-]
        mach : float - Mach number. [-]
    Returns
        spread : CpSpread - slopes' part and the rest. [m]
    Raises
        ValueError - body or fins that enclose nothing.
    Validity
        Bodies with fins; see MODEL_SPREAD.
    Source
        MODEL_SPREAD; derived.
    Example
        cp_spread(rocket).whole_m
    """
    shape, m = rocket_shape(rocket), np.array([mach])
    body, fins = _body_slope(shape.body, m.tobytes()), _fin_set(shape, m)
    lift, total = float(body.slope[0]), float(body.slope[0] + fins.slope[0])
    apart = float(fins.cp_m[0]) - float(body.moment_m[0]) / lift if lift else 0.0
    share = lift * float(fins.slope[0]) / total**2 if total else 0.0
    slopes = math.sqrt(2.0) * MODEL_SPREAD.slope * abs(apart) * share
    whole = MODEL_SPREAD.cp_length * shape.body.length_m
    least = MODEL_SPREAD.cp_cal * shape.body.diameter_m
    return CpSpread(slopes, max(math.sqrt(max(whole**2 - slopes**2, 0.0)), least))


@lru_cache(maxsize=256)
def edges_share(rocket: Rocket, mach: float = 0.3) -> float:
    """How much edges of the fins that are not said move the rocket's drag, each way.

    Half the way from the least to the most axial force over its middle: the same shape of edges
    on every fin set that does not say its own, or how wide its bevels are.

    Parameters
        rocket : Rocket - all parts. [-]
        mach : float - Mach number. [-]
    Returns
        share : float - of the axial force, more or less; 0 where every set says its edges. [-]
    Raises
        ValueError - body or fins that enclose nothing.
    Validity
        One Mach number stands for all of the flight: the share hardly moves below 0.8.
    Source
        As `fin_drag`.
    Example
        edges_share(rocket)
    """
    sets = [part for part in rocket.of_kind(Fins) if shaped_unsaid(part.edges, part.bevel_m)]
    if not sets:
        return 0.0
    shapes = {part.name: _shapes(part) for part in sets}
    each = [
        replace(rocket, parts=tuple(_edged(part, shapes, turn) for part in rocket.parts))
        for turn in range(max(map(len, shapes.values())))
    ]
    found = [summary(one, mach).axial for one in (rocket, *each)]
    return (max(found) - min(found)) / 2.0 / found[0]


def _shapes(part: Fins) -> Shapes:
    chord = fins_shape(part).mean_chord_m
    return shapes_of(part.edges, part.thickness_m, chord)


def _edged(part: Part, shapes: Mapping[str, Shapes], turn: int) -> Part:
    """A fin set that does not say its edges with one of their shapes, bevels on even turns."""
    if not isinstance(part, Fins) or part.name not in shapes:
        return part
    edges, bevel_m = shapes[part.name][turn % len(shapes[part.name])]
    return replace(part, edges=edges, bevel_m=bevel_m)


def summary(
    rocket: Rocket,
    mach: float = 0.3,
    ground_temperature_k: float = SEA_LEVEL_TEMPERATURE_K,
    ground_pressure_pa: float = SEA_LEVEL_PRESSURE_PA,
) -> Summary:
    """Slopes, centre of pressure and axial force at one Mach number, for differences and sheets.

    Parameters
        rocket : Rocket - all parts. [-]
        mach : float - Mach number. [-]
        ground_temperature_k : float - at the pad. [K]
        ground_pressure_pa : float - at the pad. [Pa]
    Returns
        summary : Summary - fin and body slope [1/rad], CP [m], axial coefficient. [-]
    Raises
        ValueError - body or fins that enclose nothing.
    Validity
        As the tables.
    Source
        See the parts.
    Example
        summary(rocket, 0.3).cp_m
    """
    shape = rocket_shape(rocket)
    m = np.array([mach])
    body, fins = _body_slope(shape.body, m.tobytes()), _fin_set(shape, m)
    re = _reynolds_per_m(m, 0.0, ground_temperature_k, ground_pressure_pa)
    axial = float(axial_force(shape, m, re).total[0])
    total = body.slope[0] + fins.slope[0]
    moment = body.moment_m[0] + fins.slope[0] * fins.cp_m[0]
    cp = float(moment / total) if total > 0.0 else float("nan")
    return Summary(float(fins.slope[0]), float(body.slope[0]), cp, axial)
