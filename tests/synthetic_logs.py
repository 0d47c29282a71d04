"""Logs of flights of the model, drawn figures and gusts: noise, spikes, gaps, a charge's pressure.

Run by itself (`python tests/synthetic_logs.py 300 [first]`) it prints how often a debrief's fit of
such logs is right; one that fits nothing as a whole counts with the fit of its events, as there.
"""

import sys
import time as clock
from typing import Any, Final

import numpy as np

from goodflight.physics.flight import fly_history
from goodflight.physics.recorded import Array, Recorded
from goodflight.physics.recorded_curve import curve_of
from goodflight.physics.recorded_events import events_of
from goodflight.studies.debriefing.fit import Fit, fit
from goodflight.studies.questions.debrief import fit_or_doubt
from goodflight.studies.sampling.trials import Trials
from synthetic_flights import CASE, EARLY_APOGEE, KEYS, LATE_GRAIN, MODEL, TOLD, holds

PAD_S: Final = 12.0  # before lift-off
EVERY_S: Final = 0.05
NOISE_M: Final = 0.4  # of a reading
SCALE: Final = 0.003  # of a barometer, one standard deviation
VENTS: Final = 0.02  # pressure at the vents over the dynamic one, one standard deviation
SPIKES: Final = 0.004  # share of readings that are wrong by up to 300 m
G: Final = 9.80665


def logged(number: int, sigma: float = 1.0, **forced: float) -> tuple[Recorded, Trials]:
    """Readings of one flight, with an accelerometer in every second, and what it was made of."""
    random = np.random.default_rng(number)
    scores = sigma * random.normal(size=(1, len(KEYS)))
    for key, score in forced.items():
        scores[0, KEYS.index(key)] = score
    trials = MODEL.flown(scores, True, 1000 + number).trials
    flown = fly_history(MODEL.launch(gusty=True), trials.parameters[0], 1000 + number, EVERY_S)
    did, start = flown.history, flown.outcomes["liftoff_s"]
    time = np.arange(0.0, PAD_S + flown.outcomes["landing_s"] - start + 8.0, EVERY_S)
    at = time - PAD_S + start
    height = np.interp(at, did["time_s"], did["up_m"], left=0.0, right=0.0)
    speed = np.interp(at, did["time_s"], did["speed_m_s"], left=0.0, right=0.0)
    warm = trials.parameter("ground_temperature_k")[0] / (288.15 - 0.0065 * CASE.site.elevation_m)
    up = (at > start) & (at < flown.outcomes["apogee_s"])
    shown = height / warm * (1.0 + SCALE * random.normal())
    shown += np.where(up, VENTS * random.normal() * speed**2 / (2.0 * G), 0.0)
    shown += NOISE_M * random.normal(size=time.size)
    shown += _charge(at - flown.outcomes["ejection_s"], random)
    wrong = random.random(time.size) < SPIKES
    shown += np.where(wrong, random.uniform(-300.0, 300.0, time.size), 0.0)
    axial = _axial(at, did, start) + random.normal(size=time.size)
    keep = np.ones(time.size, dtype=bool)
    for _ in range(3):
        begin = random.uniform(PAD_S + 1.0, time[-1] - 10.0)
        keep &= (time < begin) | (time > begin + random.uniform(0.2, 2.0))
    recorded = Recorded(
        time[keep],
        standard_height_m=shown[keep],
        axial_mps2=axial[keep] if number % 2 == 0 else None,
    )
    return recorded, trials


def _charge(since: Array, random: np.random.Generator) -> Array:
    """What the charge's pressure in the bay looks like: lower by up to 150 m, gone in a second."""
    size = random.uniform(30.0, 150.0)
    return np.where(since >= 0.0, -size * np.exp(-np.maximum(since, 0.0) / 0.15), 0.0)


def _axial(at: Array, did: dict[str, Array], start: float) -> Array:
    """Along the rocket: thrust less drag over mass; the weight on the pad."""
    quick = np.gradient(did["speed_m_s"], did["time_s"]) > -0.9 * G
    felt = np.where(quick & (did["thrust_n"] > 0.0), 1.0, -1.0) * did["felt_m_s2"]
    felt = np.where(did["phase"] >= 3, did["felt_m_s2"], felt)
    return np.interp(at, did["time_s"], felt, left=G, right=G)


def fitted(recorded: Recorded) -> Fit:
    """The fit of a log as a debrief makes it."""
    events = events_of(recorded)
    assert events is not None
    return fit(CASE, events.happened, curve_of(recorded, events))


def debriefed(recorded: Recorded) -> Fit | None:
    """The same, of its events alone where the whole fits nothing; None where these fit nothing."""
    events = events_of(recorded)
    assert events is not None
    return fit_or_doubt(CASE, events.happened, True, curve_of(recorded, events))[0]


def main(flights: int, first: int = 0) -> None:
    """Print how many intervals hold the truth, and how many verdicts are right."""
    inside, narrow = dict.fromkeys(TOLD, 0), {key: list[float]() for key in TOLD}
    began, rest, whole = clock.process_time(), list[float](), 0
    for number in range(first, first + flights):
        recorded, truth = logged(number)
        found = debriefed(recorded)
        if found is None:
            print(f"log {number} fits no flight")
            continue
        whole += 1
        if found.curve is None:
            print(f"log {number}: its events alone fit")
        else:
            rest.append(found.curve.rms_m)
        for key in TOLD:
            of = found.of(key)
            inside[key] += holds(found, truth, key)
            narrow[key].append(of.after.error / of.before.error)
    print(f"of {whole} logs, inside the interval of 9 in 10: {inside}")
    print({key: f"{np.median(each):.2f} of the spread before" for key, each in narrow.items()})
    spent = (clock.process_time() - began) / flights
    print(f"left of the heights: {np.median(rest):.2f} m; {spent:.2f} s of processor a flight")
    for words, forced in (("grain", LATE_GRAIN), ("apogee", EARLY_APOGEE)):
        made = (debriefed(logged(first + n, **forced)[0]) for n in range(flights // 3))
        verdicts: list[Any] = [each and each.why.verdict for each in made]
        print(f"{words}: {verdicts.count(words)} of {len(verdicts)}")


if __name__ == "__main__":
    main(*map(int, sys.argv[1:]))
