"""Trials: joint samples of everything uncertain about one planned flight.

Every uncertain quantity is one column of standard-normal scores (Latin hypercube, by name); this
module turns them into the kernel's parameters and into what the rows need besides. Masses and
balance points combine exactly; lengths act through their finite-difference effects.
"""

import math
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.flight import registry
from goodflight.physics.motor import motor_case_item, propellant_grain
from goodflight.physics.vehicle import body_length_m, combine_trials, fin_angles_rad
from goodflight.physics.vehicle.parts import Canopy
from goodflight.studies.case.canopies import opening_numbers
from goodflight.studies.case.planned import (
    Case,
    canopy_of,
    cord_of,
    fins_of,
    guides_of,
    motor_aft_m,
)
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.sampling.factors import Factor, factors_of
from goodflight.studies.sampling.recovery_trials import recovery_sides, section_masses
from goodflight.studies.sampling.scores import column_scores, flight_seeds
from goodflight.studies.sampling.spreads import GUST_PEAK
from goodflight.studies.sampling.structure_factors import structure_side

Array = NDArray[np.float64]
Columns = dict[str, Array]

_LEAST_SHARE = 0.1  # no drawn mass or strength falls below this share of its nominal value


@dataclass(frozen=True, eq=False)
class Trials:
    """A joint sample: what the kernel flies, and the factors it was made of.

    parameters : (n, len(PARAMETERS)); seeds : (n,); factors : k columns; z : (n, k) scores used;
    side : name with unit -> (n,), what the rows need besides the flight.
    """

    parameters: Array
    seeds: NDArray[np.uint64]
    factors: tuple[Factor, ...]
    z: Array
    side: Columns = field(default_factory=dict)

    def part(self, chosen: NDArray[np.int64]) -> "Trials":
        """The chosen flights, bit for bit."""
        return Trials(
            self.parameters[chosen],
            self.seeds[chosen],
            self.factors,
            self.z[chosen],
            {name: values[chosen] for name, values in self.side.items()},
        )

    def parameter(self, name: str) -> Array:
        """One column of the parameters by name."""
        column: Array = self.parameters[:, registry.PARAMETER_INDEX[name]]
        return column


class Scores:
    """The scores of one flight set by factor key; a quantity without spread scores zero."""

    def __init__(self, z: Array, factors: tuple[Factor, ...]) -> None:
        self._place = {factor.key: i for i, factor in enumerate(factors)}
        self._sigma = {factor.key: factor.sigma for factor in factors}
        self._z = z
        self.count = z.shape[0]

    def __call__(self, key: str) -> Array:
        place = self._place.get(key)
        return np.zeros(self.count) if place is None else self._z[:, place]

    def error(self, key: str) -> Array:
        """Score times its standard deviation."""
        return self(key) * self._sigma.get(key, 0.0)

    def factor(self, key: str) -> Array:
        """1 + relative error, kept above a tenth."""
        return np.maximum(1.0 + self.error(key), _LEAST_SHARE)


def make_trials(
    case: Case, flights: int, seed: int, chosen: NDArray[np.int64] | None = None
) -> Trials:
    """Sample everything uncertain about a planned flight.

    The same seed and number of flights give the same scores for every quantity two cases share,
    so cases can be compared flight by flight.

    Parameters
        case : Case - the planned flight. [SI]
        flights : int - size of the sample. [-]
        seed : int - any whole number. [-]
        chosen : array of int, or None - which flights of the sample to make; None = all. [-]
    Returns
        flights : Trials - parameters, seeds, factors and side arrays. [SI]
    Raises
        ValueError - the rocket lacks a motor tube or rail guides.
    Validity
        Independent quantities; normal spreads, cut where a figure would lose its meaning.
    Source
        Latin hypercube sampling: [mckay1979].
    """
    factors = factors_of(case)
    z = np.column_stack([column_scores(factor.key, flights, seed) for factor in factors])
    whole = assemble(case, factors, z, flight_seeds(flights, seed))
    return whole if chosen is None else whole.part(chosen)


def nominal(case: Case) -> Trials:
    """One flight with every quantity at its nominal value."""
    factors = factors_of(case)
    return assemble(case, factors, np.zeros((1, len(factors))), np.ones(1, dtype=np.uint64))


def assemble(
    case: Case, factors: tuple[Factor, ...], z: Array, seeds: NDArray[np.uint64]
) -> Trials:
    """Parameters and side arrays from given scores; `make_trials` and `nominal` choose them."""
    scores = Scores(z, factors)
    columns: Columns = {}
    side: Columns = {}
    for fill in (_masses, _motor, _aerodynamics, _rail, _air, _recovery, _strengths):
        fill(case, scores, columns, side)
    side |= structure_side(case, scores.error, scores.factor)
    parameters = np.empty((scores.count, len(registry.PARAMETERS)))
    recovery_sides(case, scores, side)
    for name, place in registry.PARAMETER_INDEX.items():
        parameters[:, place] = columns[name]
    return Trials(parameters, seeds, factors, z, side)


def _length_effect(case: Case, scores: Scores, feature: str) -> Array:
    total = np.zeros(scores.count)
    for figure in case.sensitivities:
        effect = figure.effects.get(feature, 0.0)
        if effect != 0.0:
            total += effect * scores(f"figure:{figure.path}")
    return total


def _masses(case: Case, scores: Scores, columns: Columns, side: Columns) -> None:
    aft = motor_aft_m(case.rocket)
    if aft is None:
        raise StudyRefused(
            "no motor tube, so the motor has no place",
            "a part of the kind motor_tube",
            "add one in rocket.toml",
            "part",
        )
    items = (*case.items, motor_case_item(case.motor, aft))
    nominal = np.array([item.mass_kg for item in items])
    masses = np.tile(nominal, (scores.count, 1))
    stations = np.tile(np.array([item.station_m for item in items]), (scores.count, 1))
    for column, item in enumerate(case.items):
        if item.mass_sigma_kg > 0.0:
            masses[:, column] += scores.error(f"mass:{item.name}")
        if item.station_sigma_m > 0.0:
            stations[:, column] += scores.error(f"place:{item.name}")
    np.maximum(masses, _LEAST_SHARE * nominal, out=masses)
    side.update(section_masses(case, items, masses))
    whole = combine_trials(items, masses, stations)
    columns["dry_mass_kg"] = whole.mass_kg + _length_effect(case, scores, "mass_kg")
    columns["dry_cg_m"] = whole.cg_m + _length_effect(case, scores, "cg_m")
    columns["dry_pitch_inertia_kg_m2"] = whole.pitch_inertia_kg_m2
    columns["dry_roll_inertia_kg_m2"] = whole.roll_inertia_kg_m2
    grain = propellant_grain(case.motor, aft)
    columns["propellant_kg"] = np.full(scores.count, case.motor.propellant_kg)
    columns["propellant_cg_m"] = np.full(scores.count, grain.cg_m)
    columns["propellant_length_m"] = np.full(scores.count, grain.length_m)
    columns["propellant_radius_m"] = np.full(scores.count, grain.inertia_radius_m)
    columns["nozzle_m"] = np.full(scores.count, aft)
    columns["tail_m"] = np.full(scores.count, body_length_m(case.rocket))


def _motor(case: Case, scores: Scores, columns: Columns, side: Columns) -> None:
    motor = case.motor
    columns["thrust_factor"] = scores.factor("impulse")
    columns["burn_time_factor"] = scores.factor("burn_time")
    label = motor.delay_s if motor.delay_s is not None else 0.0
    cut = case.delay_out_s + (scores.error("trim_depth") if case.delay_out_s > 0.0 else 0.0)
    columns["delay_s"] = np.maximum((label - cut) * scores.factor("delay"), 0.0)
    for axis in "yz":
        columns[f"thrust_angle_{axis}_rad"] = scores.error(f"thrust_angle_{axis}")
        columns[f"thrust_offset_{axis}_m"] = scores.error(f"thrust_offset_{axis}")


def _aerodynamics(case: Case, scores: Scores, columns: Columns, side: Columns) -> None:
    base = case.features
    body = _length_effect(case, scores, "body_slope") / base.get("body_slope", 1.0)
    fin = _length_effect(case, scores, "fin_slope") / base.get("fin_slope", 1.0)
    axial = _length_effect(case, scores, "axial") / base.get("axial", 1.0)
    # the kernel moves the CP with the slopes itself; only the rest of the change is a shift
    table = case.tables.mach_table[round(0.3 / registry.MACH_STEP)]
    slope_body, slope_fin = (
        table[registry.AERO_INDEX["body_slope"]],
        table[registry.AERO_INDEX["fin_slope"]],
    )
    place_body = table[registry.AERO_INDEX["body_moment_m"]] / slope_body if slope_body else 0.0
    place_fin = table[registry.AERO_INDEX["fin_cp_m"]]
    total = slope_body + slope_fin
    cp = (slope_body * place_body + slope_fin * place_fin) / total
    follows = (slope_body * body * (place_body - cp) + slope_fin * fin * (place_fin - cp)) / total
    columns["axial_factor"] = scores.factor("model:axial") * np.maximum(1.0 + axial, _LEAST_SHARE)
    columns["body_slope_factor"] = scores.factor("model:body_slope") * (1.0 + body)
    columns["fin_slope_factor"] = scores.factor("model:fin_slope") * (1.0 + fin)
    columns["crossflow_factor"] = scores.factor("model:crossflow")
    columns["cp_shift_m"] = (
        scores.error("model:cp") + _length_effect(case, scores, "cp_m") - follows
    )
    _fin_alignment(case, scores, columns)


def _fin_alignment(case: Case, scores: Scores, columns: Columns) -> None:
    fins = fins_of(case.rocket)
    zero = np.zeros(scores.count)
    columns["cant_roll_rad"], columns["cant_y_rad"], columns["cant_z_rad"] = zero, zero, zero
    if fins is None:
        return
    cants = [fins.cant_rad + scores.error(f"cant:{i + 1}") for i in range(fins.count)]
    angles = fin_angles_rad(fins)
    columns["cant_roll_rad"] = sum(cants, zero) / fins.count
    # a fin that points along y pushes along z, and the other way round
    columns["cant_y_rad"] = (
        sum((-math.sin(a) * c for a, c in zip(angles, cants)), zero) / fins.count
    )
    columns["cant_z_rad"] = sum((math.cos(a) * c for a, c in zip(angles, cants)), zero) / fins.count


def _rail(case: Case, scores: Scores, columns: Columns, side: Columns) -> None:
    guides = guides_of(case.rocket)
    if guides is None:
        raise StudyRefused(
            "no rail guides", "a part of the kind buttons", "add one in rocket.toml", "part"
        )
    full = np.full(scores.count, 1.0)
    columns["wind_from_rad"] = case.day.wind_from_rad + scores.error("wind_from")
    azimuth = columns["wind_from_rad"] if case.rail_azimuth_rad is None else case.rail_azimuth_rad
    along = case.rail_tilt_rad + scores.error("rail_along")
    across = scores.error("rail_across")
    columns["rail_tilt_rad"] = np.hypot(along, across)
    columns["rail_azimuth_rad"] = azimuth + scores.error("rail_azimuth") + np.arctan2(across, along)
    columns["rail_length_m"] = case.rail_length_m * full
    columns["rail_friction"] = np.maximum(case.rail_friction + scores.error("rail_friction"), 0.02)
    columns["guide_fore_m"] = guides.station_m * full
    columns["guide_aft_m"] = guides.aft_station_m * full
    columns["stop_height_m"] = case.stop_height_m * full
    columns["rail_base_m"] = case.rail_base_m * full


def _air(case: Case, scores: Scores, columns: Columns, side: Columns) -> None:
    day = case.day
    wind = np.abs(day.wind_m_s + scores.error("wind"))
    gust = np.maximum(day.gust_factor - 1.0, 0.0) * scores.factor("gust_factor")
    columns["wind_m_s"] = wind
    columns["wind_height_m"] = np.full(scores.count, day.wind_height_m)
    columns["wind_exponent"] = np.clip(day.wind_exponent + scores.error("wind_exponent"), 0.0, 0.6)
    columns["gust_sigma_m_s"] = wind * gust / GUST_PEAK
    columns["ground_temperature_k"] = day.temperature_k + scores.error("temperature")
    columns["ground_pressure_pa"] = day.pressure_pa + scores.error("pressure")
    columns["gravity_m_s2"] = np.full(scores.count, case.site.gravity_m_s2)


def _recovery(case: Case, scores: Scores, columns: Columns, side: Columns) -> None:
    scalars = case.tables.scalars
    side_area = float(scalars[registry.AERO_SCALAR_INDEX["planform_m2"]])
    columns["tumble_area_m2"] = 0.5 * side_area * scores.factor("tumble_area")
    cord = cord_of(case.rocket)
    reach = cord.length_m if cord is not None and cord.length_m > 0.0 else 5.0
    columns["stretch_s"] = np.maximum(reach / 10.0 * scores.factor("stretch"), 0.05)
    columns["apogee_lag_s"] = np.full(scores.count, case.apogee_lag_s)
    columns["main_height_m"] = np.full(scores.count, case.main_height_m)
    growth = 1.0 + _length_effect(case, scores, "canopy_area") / case.features.get(
        "canopy_area", 1.0
    )
    for prefix, canopy in (("canopy", canopy_of(case)), ("main", case.main_canopy)):
        _canopy(
            prefix, canopy, growth if prefix == "canopy" else np.ones(scores.count), scores, columns
        )


def _canopy(
    prefix: str, canopy: Canopy | None, growth: Array, scores: Scores, columns: Columns
) -> None:
    full = np.ones(scores.count)
    if canopy is None:
        for name in ("area_m2", "diameter_m", "fill", "growth", "overshoot"):
            columns[f"{prefix}_{name}"] = full * (0.0 if name == "area_m2" else 1.0)
        return
    numbers = opening_numbers(canopy)
    drag = np.maximum(canopy.drag_coefficient + scores.error("canopy_drag"), 0.1)
    columns[f"{prefix}_area_m2"] = drag * numbers.cloth_area_m2 * growth
    columns[f"{prefix}_diameter_m"] = numbers.diameter_m * np.sqrt(growth)
    columns[f"{prefix}_fill"] = numbers.fill * scores.factor("fill_constant")
    columns[f"{prefix}_growth"] = numbers.growth * full
    columns[f"{prefix}_overshoot"] = np.maximum(numbers.overshoot * scores.factor("overshoot"), 1.0)


def _strengths(case: Case, scores: Scores, columns: Columns, side: Columns) -> None:
    cord, canopy = cord_of(case.rocket), canopy_of(case)
    if cord is not None and cord.strength_n > 0.0:
        side["cord_strength_n"] = (
            cord.strength_n * cord.joint_efficiency
            * scores.factor("cord_strength") * scores.factor("knot")
        )  # fmt: skip
    if canopy is not None and canopy.strength_n is not None:
        side["canopy_strength_n"] = canopy.strength_n * scores.factor("canopy_strength")
    elif canopy is not None and canopy.line_strength_n is not None and canopy.line_count > 0:
        side["canopy_strength_n"] = (
            canopy.line_strength_n * canopy.line_count * LINE_KNOT
            * scores.factor("line_knot") * scores.factor("line_share")
        )  # fmt: skip
    for key in ("deploy_speed", "landing_stands", "stall", "stable_margin", "thrust_floor"):
        side[key] = scores.error(key)
    side["flutter_factor"] = np.sqrt(scores.factor("shear_modulus")) * scores.factor(
        "flutter_model"
    )
    flutter = case.features.get("flutter_m_s", 0.0)
    if flutter > 0.0:
        side["flutter_factor"] *= np.maximum(
            1.0 + _length_effect(case, scores, "flutter_m_s") / flutter, _LEAST_SHARE
        )


LINE_KNOT = 0.65  # what the knots leave of a canopy line: canopy data sheet, seen
