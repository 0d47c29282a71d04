"""In which order cord, canopy and booster came after the charge, and whether the log agrees.

The motion of nose, packed canopy and booster is worked out on flights that agree with what was
seen. Of a log's accelerometer only jerks are taken: their times after the charge. A jerk cannot say
which part made it, and a log cannot say which body was ahead: what is confounded is told.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, ClassVar, Final, Literal

import numpy as np
from numpy.typing import NDArray

from goodflight.constants import STANDARD_GRAVITY_M_S2 as GRAVITY
from goodflight.physics.recovery.parting_slide import LONGEST_S
from goodflight.project.logs.read import LogRead
from goodflight.studies.rows import Missing, View
from goodflight.studies.rows.parting import parting_of

Array = NDArray[np.float64]
Agrees = Literal["agrees", "does not agree", "cannot tell"]
Window = tuple[float, float, float]

JERK_MPS2: Final = 4.0 * GRAVITY  # as the events take a cord for taut; common practice, no source
APART_S: Final = 0.25  # between two jerks that are told apart; our guess
AFTER_CHARGE_S: Final = 0.1  # the charge's own knock, until then; our guess
CLOCK_S: Final = 0.1  # that a jerk may lie outside a window: steps of log and charge; our guess
OVERTAKEN: Final = "booster_overtakes"  # the row that damage to lines speaks for


@dataclass(frozen=True)
class Step:
    """One thing after the charge, of the flights that agree with what was seen."""

    name: Annotated[str, "cleared, straight or open"]
    words: Annotated[str, "the same in words"]
    after_s: Annotated[Window | None, "after the charge, 5, 50, 95 % points [s]; null = never"]
    never: Annotated[float, "share of those flights in which it does not happen, 0 to 1"]


@dataclass(frozen=True)
class Jerk:
    """One jerk that the log's accelerometer read."""

    after_s: Annotated[float, "after the charge [s]"]
    size_mps2: Annotated[float, "the largest reading of it [m/s2]"]


@dataclass(frozen=True)
class Order:
    """What came in which order, and what the log says of it."""

    HEADING: ClassVar = "order after the charge"  # in docs/json.md; a command bears the name

    steps: Annotated[tuple[Step, ...], "pack out of the tube, cord straight, canopy open, by time"]
    passed: Annotated[float, "share of those flights in which the booster passes the canopy"]
    missing: Annotated[str, "why the motion is not known; empty = it is"]
    jerks: Annotated[tuple[Jerk, ...], "of the log, in the order of time"]
    agrees: Annotated[Agrees, "whether the hardest jerk falls where cord or canopy have one"]
    because: Annotated[str, "why"]
    confounded: Annotated[tuple[str, ...], "what this flight cannot part"]


WORDS: Final = {  # step -> its time in the motion after the charge, in words
    "cleared": ("cleared_s", "packed canopy out of its tube"),
    "straight": ("straight_s", "cord straight"),
    "open": ("open_s", "canopy open"),
}


def order_of(view: View, log: LogRead | None = None, damaged: Sequence[str] = ()) -> Order:
    """Order of cord, canopy and booster on flights that agree with what was seen.

    Parameters
        view : View - flights drawn from the fit. [SI]
        log : LogRead or None - that was fitted. [SI]
        damaged : sequence of str - rows that damage was noted for. [-]
    Returns
        found : Order - times after the charge, and what the log says. [SI]
    Raises
        nothing
    Validity
        As the motion after ejection: the first separation, up to 5 s after its charge.
    Source
        `part_bodies` on flights drawn from the fit.
    Example
        none
    """
    found = parting_of(view)
    jerks = jerks_of(log)
    if isinstance(found, Missing):
        return Order(
            steps=(),
            passed=0.0,
            missing=found.words,
            jerks=jerks,
            agrees="cannot tell",
            because="the motion after the charge is not known",
            confounded=(),
        )
    opened = found.opened
    steps = [_step(name, found.get(time)[opened]) for name, (time, _) in WORDS.items()]
    steps.sort(key=lambda each: each.after_s[1] if each.after_s else np.inf)
    gap = found.get("min_gap_m")[opened]
    agrees, because = _agrees(steps, jerks, log)
    return Order(
        steps=tuple(steps),
        passed=float((gap < 0.0).mean()) if gap.size else 0.0,
        missing="",
        jerks=jerks,
        agrees=agrees,
        because=because,
        confounded=_confounded(steps, jerks, damaged),
    )


def jerks_of(log: LogRead | None) -> tuple[Jerk, ...]:
    """Jerks of a log after its charge, one for each stretch of hard readings."""
    if log is None or log.recorded.axial_mps2 is None or log.events.happened.charge_s is None:
        return ()
    charge = log.events.lift_off_s + log.events.happened.charge_s.value
    since, size = log.recorded.time_s - charge, np.abs(log.recorded.axial_mps2)
    near = (since > AFTER_CHARGE_S) & (since < LONGEST_S) & (np.nan_to_num(size) > JERK_MPS2)
    at = np.flatnonzero(near)
    if not len(at):
        return ()
    groups = np.split(at, np.flatnonzero(np.diff(since[at]) > APART_S) + 1)
    hardest = [int(group[np.argmax(size[group])]) for group in groups]
    return tuple(Jerk(float(since[i]), float(size[i])) for i in hardest)


def _step(name: str, after_s: Array) -> Step:
    there = after_s[np.isfinite(after_s)]
    if not there.size:
        return Step(name, WORDS[name][1], None, 1.0)
    low, middle, high = np.percentile(there, (5, 50, 95))
    never = 1.0 - there.size / after_s.size
    return Step(name, WORDS[name][1], (float(low), float(middle), float(high)), never)


def _agrees(
    steps: Sequence[Step], jerks: Sequence[Jerk], log: LogRead | None
) -> tuple[Agrees, str]:
    """Whether the hardest jerk falls where the cord comes straight or the canopy opens."""
    if log is None:
        return "cannot tell", "no log"
    if log.recorded.axial_mps2 is None:
        return "cannot tell", "the log has no accelerometer; a barometer shows the charge alone"
    if log.events.happened.charge_s is None:
        return "cannot tell", "the log shows no charge to count from"
    if not jerks:
        return (
            "cannot tell",
            f"the log shows no jerk above 4 g within {LONGEST_S:.0f} s of its charge",
        )
    hardest = max(jerks, key=lambda each: each.size_mps2)
    jerking = [each for each in steps if each.name != "cleared" and each.after_s is not None]
    fits = [each.words for each in jerking if _inside(hardest.after_s, each.after_s)]
    at = f"the hardest jerk of the log, {hardest.after_s:.2f} s after the charge,"
    if fits:
        return "agrees", f"{at} falls where the motion has: {' and '.join(fits)}"
    if not jerking:
        return "does not agree", f"{at} is none of the motion's: its cord does not come straight"
    first = min(each.after_s[0] for each in jerking if each.after_s)
    last = max(each.after_s[2] for each in jerking if each.after_s)
    where = (
        "before" if hardest.after_s < first else "after" if hardest.after_s > last else "between"
    )
    return "does not agree", f"{at} comes {where} what the motion has for cord and canopy"


def _inside(time_s: float, window: Window | None) -> bool:
    return window is not None and window[0] - CLOCK_S <= time_s <= window[2] + CLOCK_S


def _overlap(one: Window, other: Window) -> bool:
    return one[0] - CLOCK_S < other[2] and other[0] - CLOCK_S < one[2]


def _confounded(
    steps: Sequence[Step], jerks: Sequence[Jerk], damaged: Sequence[str]
) -> tuple[str, ...]:
    """What cannot be parted by what was seen."""
    said = []
    times = {each.name: each.after_s for each in steps}
    straight, opened = times.get("straight"), times.get("open")
    if straight is not None and opened is not None and _overlap(straight, opened):
        said.append(
            "cord straight and canopy open lie within the scatter of each other: one jerk may be "
            "either, or both"
        )
    if jerks:
        said.append(
            "a jerk is read where the logger sits: the tube's swing, the nose on its cord and the "
            "canopy look alike, and a logger's limit cuts the size"
        )
    said.append(
        "which body was ahead shows in no log: "
        + (
            "damage noted for it speaks for the booster passing"
            if OVERTAKEN in damaged
            else "a film, or twisted and burnt lines, would"
        )
    )
    return tuple(said)
