"""The window of the pull to separate as a JSON record, SI."""

from typing import Any

from goodflight.studies.questions.separation_window import SeparationStudy


def separation_record(study: SeparationStudy) -> dict[str, Any]:
    """Window, measured pull and what sets both ends."""
    return {
        "rocket": study.rocket,
        "plan": study.plan,
        "motor": study.motor,
        "flights": study.flights,
        "seed": study.seed,
        "state": study.state,
        "min_n": study.min_n,
        "max_n": study.max_n,
        "measured_n": study.measured_n,
        "measured_sigma_n": study.measured_sigma_n,
        "pulls": [
            {
                "key": pull.key,
                "label": pull.label,
                "force_5_50_95": [pull.low_n, pull.middle_n, pull.high_n],
                "factor": pull.factor,
            }
            for pull in study.pulls
        ],
        "chances": dict(study.chances),
        "advice": list(study.advice),
        "warnings": list(study.warnings),
        "invented": study.invented,
    }
