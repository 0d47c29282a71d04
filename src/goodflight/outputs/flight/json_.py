"""One flight, and every delay the motor allows, as data."""

from typing import Any, Final

from goodflight.outputs.record import More, Mores, record
from goodflight.studies.motor_results import DelayStudy
from goodflight.studies.results import FlightReport

MORE: Final[Mores] = {
    FlightReport: {
        "figures": None,
        "history": None,
        "events": More(
            "name, time_s, height_m in the order they happen",
            lambda report: [
                {"name": name, "time_s": time_s, "height_m": height_m}
                for name, time_s, height_m in report.events
            ],
        ),
        "stands_on": More(
            "models, versions and the hash of the inputs", lambda report: dict(report.stands_on)
        ),
    },
    DelayStudy: {
        "best_delay_out_s": More(
            "seconds out with the lowest total chance [s]",
            lambda study: study.rows[0].delay_out_s if study.rows else None,
        ),
    },
}


def flight_record(report: FlightReport) -> dict[str, Any]:
    """One flight; every named figure stands at the top level."""
    return record(report, MORE) | report.figures


def delay_record(study: DelayStudy) -> dict[str, Any]:
    """Every delay the motor allows, the lowest total chance first."""
    return record(study, MORE)
