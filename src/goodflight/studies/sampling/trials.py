"""Trials: joint samples of everything uncertain about one planned flight.

Every uncertain quantity is one column of standard-normal scores (Latin hypercube, by name); this
module turns them into the kernel's parameters and into what the rows need besides. Masses and
balance points combine exactly; lengths act through their finite-difference effects.
"""

from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from goodflight.physics.aero.build import edges_share
from goodflight.physics.aero.cant import cants_together
from goodflight.physics.aero.reading import cp_follows_m
from goodflight.physics.aero.share import tumble_area_m2
from goodflight.physics.air import gust_sigma_m_s
from goodflight.physics.air.atmosphere import shown_height_true_m
from goodflight.physics.bearings import lean_rad
from goodflight.physics.flight import registry
from goodflight.physics.motor import propellant_grain
from goodflight.physics.recovery.canopy import width_ratio
from goodflight.physics.recovery.cord import stretch_s
from goodflight.physics.structure.flutter import stiffness_speed_ratio
from goodflight.physics.vehicle import body_length_m, combine_trials, fin_angles_rad
from goodflight.physics.vehicle.parts import Canopy
from goodflight.studies.case.canopies import opening_numbers
from goodflight.studies.case.planned import (
    Case,
    Feature,
    canopy_of,
    cord_of,
    fins_of,
    guides_of,
    motor_aft_m,
)
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.sampling import air, airframe, model, motor, rail, recovery
from goodflight.studies.sampling.declared import stated_of, varying
from goodflight.studies.sampling.drawn import Drawn, scored
from goodflight.studies.sampling.glue import GlueState, glue_states
from goodflight.studies.sampling.positive import moved_ratio
from goodflight.studies.sampling.quantity import Factor, Family, Quantity
from goodflight.studies.sampling.scores import flight_seeds
from goodflight.studies.sampling.sections import Sections, drawn_items, sections_of

Array = NDArray[np.float64]
Columns = dict[str, Array]


@dataclass(frozen=True, eq=False)
class Trials:
    """A joint sample: what the kernel flies, and the factors it was made of.

    parameters : (n, len(PARAMETERS)); seeds : (n,); drawn : the declared quantities.
    """

    parameters: Array
    seeds: NDArray[np.uint64]
    drawn: Drawn

    @property
    def factors(self) -> tuple[Factor, ...]:
        """The quantities that vary, one a column of the scores."""
        return self.drawn.factors

    @property
    def z(self) -> Array:
        """Standard-normal scores, (n, k)."""
        return self.drawn.scores

    def part(self, chosen: NDArray[np.int64]) -> "Trials":
        """The chosen flights, bit for bit."""
        return Trials(self.parameters[chosen], self.seeds[chosen], self.drawn.part(chosen))

    @cached_property
    def sections(self) -> Sections | None:
        """Masses of the sections; None where the rocket does not separate."""
        return sections_of(self.drawn)

    @cached_property
    def main_sections(self) -> Sections | None:
        """Masses of the sections as the main is let out; None where that is not known."""
        return sections_of(self.drawn, main=True)

    @cached_property
    def glue(self) -> tuple[GlueState, ...]:
        """Every glue joint of the workshop, in its order."""
        return glue_states(self.drawn)

    @cached_property
    def flutter_factor(self) -> Array:
        """Flutter speed of the fins over its nominal value, (n,) [-]."""
        return _flutter_factor(self.drawn)

    def of(self, quantity: Quantity | Family, name: str = "") -> Array:
        """Drawn values of a quantity, (n,) [SI]; see `Drawn.of`."""
        return self.drawn.of(quantity, name)

    def parameter(self, name: str) -> Array:
        """One column of the parameters by name."""
        column: Array = self.parameters[:, registry.PARAMETER_INDEX[name]]
        return column


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
        flights : Trials - parameters, seeds, drawn quantities. [SI]
    Raises
        ValueError - the rocket lacks a motor tube or rail guides.
    Validity
        Independent quantities but those weighed together; normal; of what cannot be negative,
        cut above zero (`positive`).
    Source
        Latin hypercube sampling: [mckay1979].
    """
    factors, fixed = varying(stated_of(case))
    keys = tuple(factor.key for factor in factors)
    kept = scored(case.uncertainty.joint, keys, flights, seed, chosen)
    seeds = flight_seeds(flights, seed)
    drawn = Drawn(case, kept.scores, factors, fixed, mixed=kept.mixed, kept=kept.values)
    return _assembled(drawn, seeds if chosen is None else seeds[chosen])


def nominal(case: Case) -> Trials:
    """One flight with every quantity at its nominal value."""
    factors, fixed = varying(stated_of(case))
    scores = Drawn(case, np.zeros((1, len(factors))), factors, fixed)
    return _assembled(scores, np.ones(1, dtype=np.uint64))


def assemble(
    case: Case, factors: tuple[Factor, ...], z: Array, seeds: NDArray[np.uint64]
) -> Trials:
    """Parameters from given scores; `make_trials` and `nominal` choose them."""
    return _assembled(Drawn(case, z, factors, varying(stated_of(case))[1]), seeds)


def redrawn(like: Trials, z: Array, seeds: NDArray[np.uint64]) -> Trials:
    """The same quantities at other scores, what was weighed together scattering together."""
    return _assembled(Drawn(like.drawn.case, z, like.drawn.factors, like.drawn.fixed), seeds)


def _assembled(scores: Drawn, seeds: NDArray[np.uint64]) -> Trials:
    case = scores.case
    columns: Columns = {}
    for fill in (_masses, _motor, _aerodynamics, _rail, _air, _recovery):
        fill(case, scores, columns)
    parameters = np.empty((scores.count, len(registry.PARAMETERS)))
    for name, place in registry.PARAMETER_INDEX.items():
        parameters[:, place] = columns[name]
    wrong = [
        name
        for name, place in registry.PARAMETER_INDEX.items()
        if not np.isfinite(parameters[:, place]).all()
    ]
    if wrong:
        raise StudyRefused(
            f"no figure for {', '.join(wrong)} in some flights",
            "figures and spreads that leave every flight possible",
            "narrow the widest spreads of the rocket and the day",
            case.origin.plan_path.partition(":")[2],
            "plans.toml",
        )
    return Trials(parameters, seeds, scores)


def _length_effect(case: Case, scores: Drawn, feature: Feature) -> Array:
    total = np.zeros(scores.count)
    for figure in case.uncertainty.sensitivities:
        effect = figure.effects.get(feature, 0.0)
        if effect != 0.0:
            total += effect * scores.score(airframe.figure, figure.path)
    return total


def _length_ratio(case: Case, scores: Drawn, feature: Feature) -> Array:
    """A feature that is never 0 over its nominal value, as all uncertain lengths move it."""
    ratio, base = np.ones(scores.count), case.uncertainty.features.get(feature, 0.0)
    for figure in case.uncertainty.sensitivities if base != 0.0 else ():
        effect = figure.effects.get(feature, 0.0)
        if effect != 0.0:
            ratio *= moved_ratio(scores.score(airframe.figure, figure.path), effect, base)
    return ratio


def _masses(case: Case, scores: Drawn, columns: Columns) -> None:
    aft = motor_aft_m(case.rocket)
    if aft is None:
        raise StudyRefused(
            "no motor tube, so the motor has no place",
            "a part of the kind motor_tube",
            "add one in rocket.toml",
            "part",
        )
    items, masses, stations = drawn_items(scores)
    whole = combine_trials(items, masses, stations)
    columns["dry_mass_kg"] = whole.mass_kg
    columns["dry_cg_m"] = whole.cg_m
    columns["dry_pitch_inertia_kg_m2"] = whole.pitch_inertia_kg_m2 * scores.of(airframe.inertia)
    columns["dry_roll_inertia_kg_m2"] = whole.roll_inertia_kg_m2
    grain = propellant_grain(case.motor, aft)
    columns["propellant_kg"] = np.full(scores.count, case.motor.propellant_kg)
    columns["propellant_cg_m"] = np.full(scores.count, grain.cg_m)
    columns["propellant_length_m"] = np.full(scores.count, grain.length_m)
    columns["propellant_radius_m"] = np.full(scores.count, grain.inertia_radius_m)
    columns["nozzle_m"] = np.full(scores.count, aft)
    columns["tail_m"] = np.full(scores.count, body_length_m(case.rocket))


def _motor(case: Case, scores: Drawn, columns: Columns) -> None:
    columns["thrust_factor"] = scores.of(motor.impulse)
    columns["burn_time_factor"] = scores.of(motor.burn_time)
    columns["delay_s"] = np.zeros(scores.count)
    if case.motor.delay_s is not None:
        cut = case.deployment.delay_out_s + (
            scores.of(motor.trim_depth) if case.deployment.delay_out_s > 0.0 else 0.0
        )
        left = (case.motor.delay_s - cut) * scores.of(motor.delay)
        columns["delay_s"] = np.maximum(left, 0.0)
    columns["thrust_angle_y_rad"] = scores.of(motor.thrust_angle_y)
    columns["thrust_angle_z_rad"] = scores.of(motor.thrust_angle_z)
    columns["thrust_offset_y_m"] = scores.of(motor.thrust_offset_y)
    columns["thrust_offset_z_m"] = scores.of(motor.thrust_offset_z)


def _aerodynamics(case: Case, scores: Drawn, columns: Columns) -> None:
    body = _length_ratio(case, scores, "body_slope") - 1.0
    fin = _length_ratio(case, scores, "fin_slope") - 1.0
    axial = _length_ratio(case, scores, "axial")
    # the kernel moves the CP with the slopes itself; only the rest of the change is a shift
    follows = cp_follows_m(case.tables, body, fin)
    columns["axial_factor"] = scores.of(model.axial) * axial * _edges(case, scores)
    columns["body_slope_factor"] = scores.of(model.body_slope) * (1.0 + body)
    columns["fin_slope_factor"] = scores.of(model.fin_slope) * (1.0 + fin)
    columns["crossflow_factor"] = scores.of(model.crossflow)
    columns["cp_shift_m"] = scores.of(model.cp) + _length_effect(case, scores, "cp_m") - follows
    _fin_alignment(case, scores, columns)


def _edges(case: Case, scores: Drawn) -> Array:
    """Drag over its middle where edges of fins are not said: 0 drawn is the least, 1 the most."""
    share = edges_share(case.rocket)
    if share == 0.0:
        return np.ones(scores.count)
    return 1.0 + share * (2.0 * scores.of(airframe.fin_edges) - 1.0)


def _fin_alignment(case: Case, scores: Drawn, columns: Columns) -> None:
    fins = fins_of(case.rocket)
    zero = np.zeros(scores.count)
    columns["cant_roll_rad"], columns["cant_y_rad"], columns["cant_z_rad"] = zero, zero, zero
    if fins is None:
        return
    cants = [scores.of(airframe.cant, str(i + 1)) for i in range(fins.count)]
    mean = cants_together(fin_angles_rad(fins), cants)
    columns["cant_roll_rad"], columns["cant_y_rad"], columns["cant_z_rad"] = mean


def _rail(case: Case, scores: Drawn, columns: Columns) -> None:
    guides = guides_of(case.rocket)
    if guides is None:
        raise StudyRefused(
            "no rail guides", "a part of the kind buttons", "add one in rocket.toml", "part"
        )
    full = np.full(scores.count, 1.0)
    columns["wind_from_rad"] = scores.of(air.wind_from)
    azimuth = columns["wind_from_rad"] if case.rail.azimuth_rad is None else case.rail.azimuth_rad
    along = case.rail.tilt_rad + scores.of(rail.lean_along)
    across = scores.of(rail.lean_across)
    columns["rail_tilt_rad"], beside = lean_rad(along, across)
    columns["rail_azimuth_rad"] = azimuth + scores.of(rail.azimuth) + beside
    columns["rail_length_m"] = case.rail.length_m * full
    columns["rail_friction"] = scores.of(rail.friction)
    columns["guide_fore_m"] = guides.station_m * full
    columns["guide_aft_m"] = guides.aft_station_m * full
    columns["stop_height_m"] = case.rail.stop_height_m * full
    columns["rail_base_m"] = case.rail.base_m * full


def _air(case: Case, scores: Drawn, columns: Columns) -> None:
    day = case.day
    wind = scores.of(air.wind)
    columns["wind_m_s"] = wind
    columns["wind_height_m"] = np.full(scores.count, day.wind_height_m)
    columns["wind_exponent"] = scores.of(air.wind_exponent)
    columns["gust_sigma_m_s"] = gust_sigma_m_s(wind, day.gust_factor, scores.of(air.gustiness))
    columns["ground_temperature_k"] = scores.of(air.temperature)
    columns["ground_pressure_pa"] = scores.of(air.pressure)
    columns["gravity_m_s2"] = np.full(scores.count, case.site.gravity_m_s2)


def _recovery(case: Case, scores: Drawn, columns: Columns) -> None:
    scalars = case.tables.scalars
    side_area = float(scalars[registry.AERO_SCALAR_INDEX["planform_m2"]])
    columns["tumble_area_m2"] = tumble_area_m2(side_area, scores.of(model.tumble_area))
    cord = cord_of(case)
    reach = cord.length_m if cord is not None and cord.length_m > 0.0 else None
    columns["stretch_s"] = stretch_s(reach, scores.of(recovery.stretch))
    columns["apogee_lag_s"] = np.full(scores.count, case.deployment.apogee_lag_s)
    columns["main_height_m"] = _main_height_m(case, scores, columns["ground_temperature_k"])
    growth = _length_ratio(case, scores, "canopy_area")
    first = canopy_of(case)
    drag = scores.of(recovery.canopy_drag) if first is not None else np.zeros(scores.count)
    columns |= _first_columns(_opening(first, drag, growth, scores))
    main = case.deployment.main_canopy
    if main is not None:
        drag = scores.of(recovery.main_drag)
    main_growth = _length_ratio(case, scores, "main_area")
    columns |= _main_columns(_opening(main, drag, main_growth, scores))


def _main_height_m(case: Case, scores: Drawn, temperature_k: Array) -> Array:
    """Height at which the second canopy's charge fires, (n,) [m]; 0 without one.

    An altimeter reads heights of the standard atmosphere: in colder air it fires lower.
    """
    if case.deployment.main_canopy is None:
        return np.zeros(scores.count)
    shown = case.deployment.main_height_m
    true = shown_height_true_m(shown, temperature_k, case.site.elevation_m)
    return np.maximum(true + scores.of(recovery.main_height), 0.0)


class _Opening(NamedTuple):
    """How a canopy opens on every flight, (n,) each; without one it pulls nothing."""

    area_m2: Array
    diameter_m: Array
    fill: Array
    growth: Array
    overshoot: Array


def _first_columns(of: _Opening) -> Columns:
    return {
        "canopy_area_m2": of.area_m2,
        "canopy_diameter_m": of.diameter_m,
        "canopy_fill": of.fill,
        "canopy_growth": of.growth,
        "canopy_overshoot": of.overshoot,
    }


def _main_columns(of: _Opening) -> Columns:
    return {
        "main_area_m2": of.area_m2,
        "main_diameter_m": of.diameter_m,
        "main_fill": of.fill,
        "main_growth": of.growth,
        "main_overshoot": of.overshoot,
    }


def _opening(canopy: Canopy | None, drag: Array, growth: Array, scores: Drawn) -> _Opening:
    full = np.ones(scores.count)
    if canopy is None:
        return _Opening(0.0 * full, full, full, full, full)
    numbers = opening_numbers(canopy)
    return _Opening(
        area_m2=drag * numbers.cloth_area_m2 * growth,
        diameter_m=numbers.diameter_m * width_ratio(growth),
        fill=numbers.fill * scores.of(recovery.fill_constant),
        growth=numbers.growth * full,
        overshoot=np.maximum(numbers.overshoot * scores.of(recovery.overshoot), 1.0),
    )


def _flutter_factor(drawn: Drawn) -> Array:
    stiff = stiffness_speed_ratio(drawn.of(airframe.shear_modulus)) * drawn.of(model.flutter_model)
    return stiff * _length_ratio(drawn.case, drawn, "flutter_m_s")
