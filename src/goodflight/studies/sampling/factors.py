"""The uncertain quantities of one planned flight: which columns of scores exist, and their names.

Each factor has a key (its column), words for the reader, a group (what is shown as one driver),
how it is known and where it stands in the project. A factor with no spread is left out.
"""

from dataclasses import replace

from goodflight.studies.case.planned import Case, canopy_of, cord_of, fins_of
from goodflight.studies.sampling.factor import Factor, assumed
from goodflight.studies.sampling.recovery_factors import recovery_factors
from goodflight.studies.sampling.spreads import SPREADS
from goodflight.studies.sampling.structure_factors import structure_factors

__all__ = ["Factor", "factors_of"]


def factors_of(case: Case) -> tuple[Factor, ...]:
    """Every factor of a planned flight with a spread, in the order of the flight."""
    found = [*_mass_factors(case), *_length_factors(case), *_motor_factors(case)]
    found += [*_model_factors(case), *_day_factors(case), *_recovery_factors(case)]
    found += recovery_factors(case)
    found += structure_factors(case)
    return tuple(factor for factor in found if factor.sigma > 0.0)


def _written(case: Case, path: str) -> tuple[str, str]:
    """How a figure of the project is known, and its path; a guess when it is not written."""
    known = case.known.get(path)
    return ("guess", "") if known is None else (known, path)


def _mass_factors(case: Case) -> list[Factor]:
    found = []
    for item in case.items:
        path = case.mass_paths.get(item.name, "")
        found.append(
            Factor(
                f"mass:{item.name}",
                f"mass of {item.name}",
                f"mass:{item.name}",
                item.mass_sigma_kg,
                item.known,
                path,
                item.mass_kg,
                "mass",
            )
        )
        found.append(
            Factor(
                f"place:{item.name}",
                f"balance of {item.name}",
                f"mass:{item.name}",
                item.station_sigma_m,
                item.known,
                path,
                item.station_m,
                "length",
            )
        )
    return found


def _length_factors(case: Case) -> list[Factor]:
    return [
        Factor(
            f"figure:{s.path}",
            s.label,
            f"figure:{s.path}",
            s.sigma,
            s.known,
            s.path,
            s.value,
            s.dimension,
        )
        for s in case.sensitivities
    ]


def _motor_factors(case: Case) -> list[Factor]:
    motor = case.motor
    found = [
        Factor("impulse", "impulse of the motor", "motor", motor.impulse_sigma, motor.known),
        Factor("burn_time", "burn time of the motor", "motor", motor.burn_time_sigma, motor.known),
    ]
    if motor.delay_s is not None:
        found.append(Factor("delay", "delay of the motor", "delay", motor.delay_sigma, motor.known))
        found.append(replace(assumed(SPREADS["trim_depth"]), group="delay"))
    found += [assumed(SPREADS[f"thrust_angle_{axis}"]) for axis in "yz"]
    found += [assumed(SPREADS[f"thrust_offset_{axis}"]) for axis in "yz"]
    return found


def _model_factors(case: Case) -> list[Factor]:
    found = [
        Factor(
            f"model:{key}",
            label,
            f"model:{key}",
            sigma,
            dimension="length" if key == "cp" else "ratio",
            reason=reason,
        )
        for key, label, sigma, reason in case.model_spreads
    ]
    fins = fins_of(case.rocket)
    if fins is not None:
        for number in range(1, fins.count + 1):
            found.append(
                Factor(
                    f"cant:{number}",
                    SPREADS["fin_cant"].label,
                    "fin_alignment",
                    case.cant_sigma_rad,
                    fins.known,
                    "",
                    0.0,
                    "angle",
                    SPREADS["fin_cant"].reason,
                )
            )
    for key in ("stall", "stable_margin", "shear_modulus", "flutter_model", "thrust_floor"):
        found.append(assumed(SPREADS[key]))
    return found


def _day_factors(case: Case) -> list[Factor]:
    day, today = case.day, f"{case.plan_path}.day"
    found = [
        assumed(SPREADS[key])
        for key in ("rail_along", "rail_across", "rail_azimuth", "rail_friction")
    ]
    found += [
        Factor(
            "wind",
            "wind",
            "wind",
            day.wind_sigma_m_s,
            *_written(case, f"{today}.wind"),
            day.wind_m_s,
            "speed",
        ),
        Factor(
            "wind_from",
            "wind direction",
            "wind_from",
            day.wind_from_sigma_rad,
            *_written(case, f"{today}.wind_from"),
            day.wind_from_rad,
            "angle",
        ),
        Factor(
            "wind_exponent",
            "growth of the wind with height",
            "wind_exponent",
            day.wind_exponent_sigma,
            *_written(case, f"{today}.wind_exponent"),
            day.wind_exponent,
        ),
        Factor(
            "temperature",
            "temperature",
            "air",
            day.temperature_sigma_k,
            *_written(case, f"{today}.temperature"),
            day.temperature_k,
            "temperature",
        ),
        Factor(
            "pressure",
            "air pressure",
            "air",
            day.pressure_sigma_pa,
            *_written(case, f"{today}.pressure"),
            day.pressure_pa,
            "pressure",
        ),
        assumed(SPREADS["gust_factor"]),
    ]
    return found


def _recovery_factors(case: Case) -> list[Factor]:
    found = [
        assumed(SPREADS["stretch"]),
        assumed(SPREADS["tumble_area"]),
        assumed(SPREADS["deploy_speed"]),
        assumed(SPREADS["landing_stands"]),
    ]
    canopy = canopy_of(case)
    if canopy is not None:
        found.append(
            Factor(
                "canopy_drag",
                "drag coefficient of the canopy",
                "canopy_drag",
                canopy.drag_coefficient_sigma,
                *_written(case, f"rocket.toml:part[{canopy.name}].drag_coefficient"),
                canopy.drag_coefficient,
            )
        )
        found += [assumed(SPREADS["fill_constant"]), assumed(SPREADS["overshoot"])]
        if canopy.strength_n is not None:
            found.append(
                Factor(
                    "canopy_strength",
                    "strength of the canopy",
                    "canopy_strength",
                    canopy.strength_sigma,
                    *_written(case, f"rocket.toml:part[{canopy.name}].strength"),
                    canopy.strength_n,
                    "force",
                    share=True,
                )
            )
        else:
            found += [assumed(SPREADS["line_knot"]), assumed(SPREADS["line_share"])]
    cord = cord_of(case.rocket)
    if cord is not None:
        found.append(
            Factor(
                "cord_strength",
                "strength of the cord",
                "cord_strength",
                cord.strength_sigma,
                *_written(case, f"rocket.toml:part[{cord.name}].strength"),
                cord.strength_n,
                "force",
                share=True,
            )
        )
        found.append(assumed(SPREADS["knot"]))
    return found
