"""Results as JSON: SI values, the unit in every field name, null for what is not known.

The fields are listed in `json_fields`, from which docs/json.md is made.
"""

import json
import math
from typing import Any

import numpy as np

from goodflight.outputs.words import at_least, speak
from goodflight.studies.motor_results import DelayRow, DelayStudy
from goodflight.studies.questions.layout import Layout
from goodflight.studies.results import FlightReport


def to_json(data: dict[str, Any]) -> str:
    """A record as text; a number that is not finite becomes null."""
    return json.dumps(_clean(data), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def flight_record(report: FlightReport) -> dict[str, Any]:
    """One flight: every named figure at the top level, then the events."""
    return {
        "rocket": report.rocket,
        "plan": report.plan,
        "motor": report.motor,
        "calm": report.calm,
        **report.figures,
        "events": [
            {"name": name, "time_s": time_s, "height_m": height_m}
            for name, time_s, height_m in report.events
        ],
        "warnings": list(report.warnings),
        "stands_on": dict(report.stands_on),
        "invented": report.invented,
    }


def delay_record(study: DelayStudy) -> dict[str, Any]:
    """Every delay the motor allows, the lowest total chance first."""
    return {
        "rocket": study.rocket,
        "plan": study.plan,
        "motor": study.motor,
        "flights": study.flights,
        "seed": study.seed,
        "planned_delay_out_s": study.planned_delay_out_s,
        "best_delay_out_s": study.rows[0].delay_out_s if study.rows else None,
        "rows": [_delay_row(row) for row in study.rows],
        "warnings": list(study.warnings),
        "invented": study.invented,
    }


def layout_record(layout: Layout) -> dict[str, Any]:
    """What the drawing shows, as figures."""
    return {
        "rocket": layout.rocket,
        "plan": layout.plan,
        "motor": layout.motor,
        "length_m": layout.length_m,
        "diameter_m": layout.diameter_m,
        "liftoff_mass_kg": layout.liftoff_mass_kg,
        "cg_liftoff_m": layout.cg_liftoff.station_m,
        "cg_liftoff_sigma_m": layout.cg_liftoff.sigma_m,
        "cg_burnout_m": layout.cg_burnout.station_m,
        "cp_m": layout.cp.station_m,
        "cp_sigma_m": layout.cp.sigma_m,
        "cp_at_10_deg_m": layout.cp_travel_m,
        "margin_liftoff_cal": layout.margin_liftoff_cal,
        "margin_burnout_cal": layout.margin_burnout_cal,
        "margin_short_cal": layout.margin_short_cal,
        "gust_rad": layout.gust_rad,
        "margin_gust_cal": layout.margin_gust_cal,
        "parts": [
            {
                "name": piece.name,
                "kind": piece.kind,
                "fore_m": piece.fore_m,
                "aft_m": piece.aft_m,
                "mass_kg": piece.mass_kg,
                "balance_m": piece.balance_m,
                "known": piece.known,
            }
            for piece in (*layout.body, *layout.contents)
        ],
        "measured": layout.measured,
        "figures": layout.figures,
        "invented": layout.invented,
    }


def _delay_row(row: DelayRow) -> dict[str, Any]:
    return {
        "delay_out_s": row.delay_out_s,
        "delay_s": row.delay_s,
        "chance": row.chance,
        "low": row.low,
        "high": row.high,
        "spoken": at_least(speak(row.chance, row.low, row.high), row.chance, row.unknown),
        "state": row.state,
        "unknown": row.unknown,
        "chances": dict(row.chances),
        "ejection_m_s_5_50_95": list(row.ejection_m_s),
        "ejection_m_5_50_95": list(row.ejection_m),
        "after_apogee_s_5_50_95": list(row.after_apogee_s),
    }


def _clean(value: Any) -> Any:
    """Plain Python all the way down; numbers that are not finite become None."""
    if isinstance(value, dict):
        return {key: _clean(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_clean(item) for item in value]
    if isinstance(value, np.generic):
        return _clean(value.item())
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value
