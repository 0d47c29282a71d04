"""The motors of a folder, measurements and base rates as JSON records."""

from typing import Any

from goodflight.outputs.words import speak
from goodflight.studies.results import BaseRate, Measurement, MotorRow, MotorStudy


def motors_record(study: MotorStudy) -> dict[str, Any]:
    """Every motor of the folder, the lowest chance first."""
    return {
        "rocket": study.rocket,
        "plan": study.plan,
        "site": study.site,
        "level": study.level,
        "flights": study.flights,
        "seed": study.seed,
        "rows": [_motor(row) for row in study.rows],
        "growth": list(study.growth),
        "warnings": list(study.warnings),
        "invented": study.invented,
    }


def _motor(row: MotorRow) -> dict[str, Any]:
    return {
        "key": row.key,
        "name": row.name,
        "motor_class": row.motor_class,
        "impulse_ns": row.impulse_ns,
        "level": row.level,
        "can": row.can,
        "delay_out_s": row.delay_out_s,
        "chance": row.chance,
        "low": row.low,
        "high": row.high,
        "spoken": speak(row.chance, row.low, row.high),
        "apogee_m": row.apogee_m,
        "why_not": list(row.why_not),
    }


def measurement_record(each: Measurement) -> dict[str, Any]:
    """One figure worth measuring."""
    return {
        "key": each.key,
        "label": each.label,
        "how": each.how,
        "minutes": each.minutes,
        "moves": each.moves,
        "total": each.total,
        "checked": each.checked,
        "without": each.without,
    }


def base_rate_record(rate: BaseRate) -> dict[str, Any]:
    """One base rate of what is not computed."""
    return {
        "what": rate.what,
        "chance": rate.chance,
        "basis": rate.basis,
        "source": rate.source,
        "how": rate.how,
    }
