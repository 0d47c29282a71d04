"""The next delay, the next motor and the way to the next level, in words."""

from typing import Final

from goodflight.outputs.words import at_least, speak
from goodflight.quantity import brief, show, show_spread
from goodflight.quantity.said import told
from goodflight.studies.cautions import WHO_DECIDES, caution
from goodflight.studies.debriefing.next_flight import NextFlight
from goodflight.studies.debriefing.next_level import Gap, NextLevel, State
from goodflight.studies.motor_results import DelayRow, MotorRow

STATES: Final[dict[State, str]] = {
    "met": "met",
    "lacking": "lacking",
    "not known": "not known",
    "not stated": "not stated in the code set",
}
DECIDE: Final = f"Field, rail, canopy and weather are those of the plan. {WHO_DECIDES}"


def basis_words(found: NextFlight, units: str = "metric") -> str:
    """Which rocket is flown: with the flight's figures, or as it was known before."""
    if found.why_not:
        return f"With the rocket as it was known before, as {found.why_not}"
    told = "; ".join(
        f"{each.words} {show_spread(each.after.value, each.after.error, each.dimension, units)}"
        for each in found.taken_over
    )
    return f"With the rocket as this flight has it: {told}"


def delay_words(found: NextFlight) -> tuple[str, ...]:
    """The best delay of the motor flown, what does as well, and the one flown."""
    if not found.delays:
        return (f"{found.no_delay[0].upper()}{found.no_delay[1:]}",) if found.no_delay else ()
    best, flown = found.delays[0], found.flown_out_s
    said = f"{found.motor} again: {_delay(best)} fails {_chance(best)}"
    if found.same:
        others = ", ".join(brief(each, "time") for each in found.same)
        said += f"; {others} out do as well: {found.flights} flights cannot separate them"
    as_flown = next((each for each in found.delays if each.delay_out_s == flown), None)
    if as_flown is not None and as_flown is not best:
        said += f". As flown, {_delay(as_flown)}: {_chance(as_flown)}"
    return (said, caution("delay"))


def _delay(row: DelayRow) -> str:
    left = f"{brief(row.delay_s, 'time')} left"
    return (
        f"{brief(row.delay_out_s, 'time')} out ({left})" if row.delay_out_s else f"as sold ({left})"
    )


def _chance(row: DelayRow | MotorRow) -> str:
    return at_least(speak(row.chance, row.low, row.high), row.chance, row.unknown)


def motor_words(row: MotorRow, units: str = "metric") -> str:
    """One motor of the folder: can it, how high, and what fails most."""
    level = f", needs {row.level}" if row.level and row.level != "none" else ""
    name = f"{row.name} ({row.motor_class}{level})"
    if row.chance is None:
        return f"{name}: cannot be flown: {told(row.why_not[0], units)}"
    to = "" if row.apogee_m is None else f", to {show(row.apogee_m, 'length', units)}"
    out = "" if not row.delay_out_s else f", {brief(row.delay_out_s, 'time')} out"
    most = told(row.why_not[0], units) if row.why_not else ""
    why = f"; most often: {most[0].lower()}{most[1:]}" if most else ""
    return f"{name}{out}{to}: fails {_chance(row)}{why}"


def level_title(level: NextLevel) -> str:
    """The heading of the list."""
    return f"What {level.level} waits for" if level.level else "The next level"


def code_words(level: NextLevel) -> str:
    """By which code set, as far as it was read."""
    by = f"By {level.code}, as far as the set holds it" if level.code else "No code set is named"
    tried = f"; tried with {level.motor}, the smallest of that level here" if level.motor else ""
    return f"{by}{tried}"


def count_words(level: NextLevel) -> str:
    """How many entries of the list stand how: "2 lacking, 4 not known"."""
    states = [each.state for each in level.gaps]
    counts = ((states.count(state), words) for state, words in STATES.items())
    return ", ".join(f"{count} {words}" for count, words in counts if count)


def gap_words(each: Gap, units: str = "metric") -> str:
    """One line of the list."""
    return f"{STATES[each.state]}: {each.what}: {each.words.told(units)}"
