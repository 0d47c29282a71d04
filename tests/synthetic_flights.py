"""Flights of the model with drawn figures, gusts and errors of reading, to fit again.

Run by itself (`python tests/synthetic_flights.py 300`) it prints how often the fit is right.
"""

import sys
from typing import Final

import numpy as np

from goodflight.physics.recorded import Happened, Measured
from goodflight.studies.debriefing.fit import Fit, fit
from goodflight.studies.debriefing.predicted import FIGURES, Model
from goodflight.studies.sampling.trials import Trials
from sample_case import sample_case

LOGGER: Final = {  # what a logger gives, and how far it may be off: our guess
    "burnout_s": 0.1, "apogee_s": 0.1, "charge_s": 0.05, "landing_s": 0.5,
    "apogee_standard_m": 2.0, "last_rate_mps": 0.2,
}  # fmt: skip
LATE_GRAIN: Final = {"delay": 2.5}  # scores; all else drawn
EARLY_APOGEE: Final = {"model:axial": 3.0, "impulse": -2.0, "delay": 0.0}
TOLD: Final = (
    "axial_factor", "thrust_factor", "burn_time_factor", "delay_s", "canopy_area_m2", "wind_m_s",
)  # fmt: skip
CASE: Final = sample_case()
MODEL: Final = Model(CASE, tuple(FIGURES))
KEYS: Final = [factor.key for factor in MODEL.factors]


def flown(number: int, errors: dict[str, float], **forced: float) -> tuple[Happened, Trials]:
    """What was seen of a flight, with these errors, and what it was made of."""
    random = np.random.default_rng(number)
    scores = random.normal(size=(1, len(KEYS)))
    for key, score in forced.items():
        scores[0, KEYS.index(key)] = score
    did = MODEL.flown(scores, True, 1000 + number)
    shown = dict(zip(MODEL.names, MODEL.shown(did)[0], strict=True))
    seen = {n: Measured(float(shown[n] + e * random.normal()), e) for n, e in errors.items()}
    return Happened(**seen), did.trials


def holds(found: Fit, truth: Trials, key: str) -> bool:
    """Whether the interval of 9 in 10 holds what the flight was made of."""
    low, high = found.of(key).interval
    return bool(low <= truth.parameter(key)[0] <= high)


def main(flights: int) -> None:
    """Print how many intervals hold the truth, and how many verdicts are right."""
    inside = dict.fromkeys(TOLD, 0)
    for number in range(flights):
        happened, truth = flown(number, LOGGER)
        found = fit(CASE, happened)
        for key in TOLD:
            inside[key] += holds(found, truth, key)
    print(f"of {flights} flights, inside the interval of 9 in 10: {inside}")
    for words, forced in (("grain", LATE_GRAIN), ("apogee", EARLY_APOGEE)):
        verdicts: list[str] = [
            fit(CASE, flown(n, LOGGER, **forced)[0]).why.verdict for n in range(flights // 3)
        ]
        print(f"{words}: {verdicts.count(words)} of {len(verdicts)}")


if __name__ == "__main__":
    main(int(sys.argv[1]))
