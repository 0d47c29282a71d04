"""Results as JSON: SI values, the unit in every field name, null for what is not known.

The fields are listed in `json_fields`, from which docs/json.md is made.
"""

import json
import math
from typing import Any

import numpy as np

from goodflight.outputs.ledger.basis_words import formula
from goodflight.outputs.ledger.row_words import against, answer
from goodflight.outputs.record import record
from goodflight.outputs.words import at_least, headline, speak
from goodflight.quantity.units import dimension_of
from goodflight.studies.cautions import caution
from goodflight.studies.motor_results import DelayRow, DelayStudy
from goodflight.studies.questions.layout import Layout
from goodflight.studies.results import FlightReport, Ledger, Remedy, Row, Way
from goodflight.studies.unseen import UNSEEN, second_reader


def to_json(data: dict[str, Any]) -> str:
    """A record as text; a number that is not finite becomes null."""
    return json.dumps(_clean(data), indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def ledger_record(ledger: Ledger) -> dict[str, Any]:
    """The ledger with all its rows."""
    return {
        "rocket": ledger.rocket,
        "plan": ledger.plan,
        "motor": ledger.motor,
        "site": ledger.site,
        "flights": ledger.flights,
        "seed": ledger.seed,
        "state": ledger.state,
        "unknown": list(ledger.unknown),
        "unmet": list(ledger.unmet),
        "open": list(ledger.open),
        "chance": ledger.chance,
        "low": ledger.low,
        "high": ledger.high,
        "spoken": headline(ledger),
        "knowledge": None if ledger.knowledge is None else record(ledger.knowledge),
        "measured": ledger.measured,
        "figures": ledger.figures,
        "rows": [row_record(row) for row in ledger.rows],
        "way": ledger.way and way_record(ledger.way),
        "measure_next": [record(each) for each in ledger.measure_next],
        "not_here": [record(each) for each in ledger.not_here],
        "not_modelled": list(ledger.not_modelled),
        "unseen": [record(each) for each in UNSEEN],
        "second_reader": second_reader(),
        "base_rates": [record(rate) for rate in ledger.base_rates],
        "warnings": list(ledger.warnings),
        "stands_on": dict(ledger.stands_on),
        "invented": ledger.invented,
    }


def row_record(row: Row) -> dict[str, Any]:
    """One limit state, with the 5, 50 and 95 % points of demand and capacity."""
    return {
        "key": row.key,
        "title": row.title,
        "phase": row.phase,
        "state": row.state,
        "chance": row.chance,
        "low": row.low,
        "high": row.high,
        "spoken": answer(row),
        "failed": row.failed,
        "flights": row.flights,
        "margin": row.margin,
        "against": against(row),
        "dimension": row.unit,
        "demand_5_50_95": _points(row.demand),
        "capacity_5_50_95": _points(row.capacity),
        "more_is_worse": row.more_is_worse,
        "driver": row.drivers[0].key if row.drivers else None,
        "drivers": [record(driver) for driver in row.drivers],
        "remedies": [remedy_record(remedy) for remedy in row.remedies],
        "kind": row.kind,
        "answered": row.answered,
        "formula": formula(row.basis),
        "figures": [
            {"name": name, "value": f.value, "dimension": f.dimension, "source": f.source}
            for name, f in row.basis.figures.items()
        ],
        "sources": [
            {"key": key, "text": text}
            for key, text in zip(row.basis.source_keys, row.basis.sources)
        ],
        "inputs": [
            {
                "key": item.key,
                "label": item.label,
                "value": item.value,
                "sigma": item.sigma,
                "share": item.share,
                "dimension": item.dimension,
                "unit": dimension_of(item.dimension).si,
                "known": item.known,
                "path": item.path,
                "because": item.because,
                "source": item.source,
                "reason": item.reason,
            }
            for item in row.inputs
        ],
        "warnings": list(row.warnings),
        "advice": row.advice,
        "asks": [
            {
                "key": each.key,
                "label": each.label,
                "dimension": each.dimension,
                "unit": dimension_of(each.dimension).si if each.dimension else "",
                "file": each.file,
                "place": each.place,
                "how": each.how,
                "instrument": each.instrument,
                "minutes": each.minutes,
                "kind": each.kind,
                "choices": [list(pair) for pair in each.choices],
                "value": each.value,
            }
            for each in row.asks
        ],
    }


def way_record(way: Way) -> dict[str, Any]:
    """The way to a good flight: where it comes to, and its steps with the total after each."""
    return {
        "total_before": way.total_before,
        "total": way.total,
        "low": way.low,
        "high": way.high,
        "limit": way.limit,
        "reached": way.reached,
        "already": way.already,
        "against": list(way.against),
        "unknown": list(way.unknown),
        "steps": [
            {
                **remedy_record(step.remedy),
                "helps": list(step.helps),
                "meets": list(step.meets),
            }
            for step in way.steps
        ],
        "change": [{"path": path, "text": text} for path, text in way.change],
    }


def remedy_record(remedy: Remedy) -> dict[str, Any]:
    """One remedy with its effect on the row and on the total."""
    return {
        "key": remedy.key,
        "title": remedy.title.told(),
        "cost": remedy.cost,
        "cost_note": remedy.cost_note,
        "caution": caution(remedy.caution) if remedy.caution else "",
        "chance_before": remedy.chance_before,
        "chance": remedy.chance,
        "total_before": remedy.total_before,
        "total": remedy.total,
        "reaches": remedy.reaches,
        "rank": remedy.rank,
        "worsens": list(remedy.worsens),
        "sides": [record(each) for each in remedy.sides],
        "not_known": list(remedy.unknown),
        "change": [{"path": path, "text": text} for path, text in remedy.change],
    }


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
            {"name": piece.name, "kind": piece.kind, "fore_m": piece.fore_m, "aft_m": piece.aft_m,
             "mass_kg": piece.mass_kg, "balance_m": piece.balance_m, "known": piece.known}
            for piece in (*layout.body, *layout.contents)
        ],
        "measured": layout.measured,
        "figures": layout.figures,
        "invented": layout.invented,
    }  # fmt: skip


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


def _points(values: np.ndarray[Any, Any]) -> list[float] | None:
    finite = values[np.isfinite(values)]
    if finite.size == 0:
        return None
    return [float(point) for point in np.percentile(finite, [5, 50, 95])]


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
