"""Times of a film: frames counted from lift-off, over frames a second, with their errors.

t = (n - n0) / r; its variance is that of the two frames over r^2, and (t s / r)^2 for a rate that
is off by s. Left out: a camera that changes its rate while it films; count on one that does not.
"""

import math
from collections.abc import Mapping
from typing import Final

from pydantic import ValidationError

from goodflight.physics.recorded import TIME_OF, Measured
from goodflight.project.bench_files import FilmTable
from goodflight.quantity import Quantity
from goodflight.quantity.refusal import Record
from goodflight.studies.finding.sightings import fault

READ_FRAMES: Final = 1.0  # of a frame picked by eye, one standard deviation; our guess
APOGEE_S: Final = 0.5  # of the highest point, which looks still for a second; our guess
RATE_SHARE: Final = 0.001  # of a rate: players round 29.97 to 30
EVENTS: Final = tuple(each for each in FilmTable.model_fields if each not in ("rate", "lift_off"))
FRAME_WORDS: Final = "a frame without an error is taken as read to one frame (our guess)"
TOP_WORDS: Final = "a film's highest point without an error is taken as good to 0.5 s (our guess)"
RATE_WORDS: Final = "a film's rate without an error is taken as good to 0.1 % (29.97 is written 30)"


def film_of(typed: Mapping[str, str]) -> tuple[FilmTable | None, list[Record]]:
    """A film as typed, frame by event with `rate` and `lift_off`; None with what is wrong."""
    try:
        return FilmTable.model_validate(dict(typed)), []
    except ValidationError as error:
        told = []
        for each in error.errors():
            key = ".".join(str(part) for part in each["loc"])
            said = each.get("ctx", {})
            wanted = "a frame number, or one of rate, lift_off, " + ", ".join(EVENTS)
            told.append(
                fault(
                    f"film {key}",
                    str(said.get("found", "nothing" if each["type"] == "missing" else key)),
                    str(said.get("expected", wanted)),
                    str(said.get("advice", "count frames from the film's first")),
                )
            )
        return None, told


def film_times(film: FilmTable) -> tuple[dict[str, Measured], tuple[str, ...]]:
    """Times after lift-off of what is on a film, by name, and what was taken for granted.

    Parameters
        film : FilmTable - frames and rate. [-]
    Returns
        times, taken : dict and tuple - "apogee_s" -> time with its error; words. [s]
    Raises
        nothing
    Validity
        A film that keeps its rate.
    Source
        Derived; errors add up as independent.
    Example
        >>> film_times(FilmTable(rate="30", lift_off="100", charge="400"))[0]["charge_s"].value
        10.0
    """
    rate, taken = film.rate.value, list[str]()
    off = RATE_SHARE * rate if film.rate.sigma is None else film.rate.sigma
    taken += [RATE_WORDS] if film.rate.sigma is None else []
    start = _frames(film.lift_off, taken)
    times = {}
    for event in EVENTS:
        frame: Quantity | None = getattr(film, event)
        if frame is None:
            continue
        time = (frame.value - film.lift_off.value) / rate
        if event == "apogee" and frame.sigma is None:
            own = APOGEE_S
            taken.append(TOP_WORDS)
        else:
            own = _frames(frame, taken) / rate
        error = math.hypot(own, start / rate, time * off / rate)
        times[TIME_OF[event]] = Measured(time, error)
    return times, tuple(dict.fromkeys(taken))


def _frames(frame: Quantity, taken: list[str]) -> float:
    if frame.sigma is None:
        taken.append(FRAME_WORDS)
        return READ_FRAMES
    return frame.sigma
