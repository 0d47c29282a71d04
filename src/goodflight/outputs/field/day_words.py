"""The day board in words: the same on the terminal, the page and paper."""

from collections.abc import Sequence
from typing import Final

from goodflight.outputs.figures import FAR_UNIT
from goodflight.outputs.words import at_least, speak
from goodflight.quantity import brief
from goodflight.studies.field.checks import Check
from goodflight.studies.field.choices import Choice
from goodflight.studies.field.day import DayBoard, HourAnswer, Verdict
from goodflight.studies.sampling.quantity import ALSO

VERDICTS: Final[dict[Verdict, str]] = {
    "go": "Go",
    "change": "Change first",
    "wait": "Wait",
    "no_go": "No-go",
}
MARKS: Final[dict[str, str]] = {"ok": "○", "not ok": "●", "unknown": "▨"}
NOT_YET: Final = "Not yet"
CHOSEN: Final = (
    "This holds for the choice that is best now. The field card chooses anew at each wind, so its "
    "limit may differ."
)


def in_the_way(checks: Sequence[Check]) -> list[tuple[Check, str]]:
    """What is not ok, worst first, each with the titles that wait for the same act."""
    found: dict[tuple[str, str], list[Check]] = {}
    for check in sorted(checks, key=lambda check: check.held):
        if check.held != "ok":
            first, _, _ = check.turns.told().partition(ALSO)
            found.setdefault((check.held, first), []).append(check)
    return [(first, "; ".join(each.title for each in others)) for first, *others in found.values()]


def spoken(answer: HourAnswer) -> str:
    """The verdict in words; while something is open nobody says go."""
    if not answer.open:
        return VERDICTS[answer.verdict]
    if answer.verdict in ("wait", "no_go"):
        return VERDICTS[answer.verdict]
    return NOT_YET


def then(answer: HourAnswer) -> str:
    """What stands in the way of a go, and what the verdict is then; empty where nothing does."""
    if not answer.open or answer.verdict in ("wait", "no_go"):
        return ""
    count = "one thing is open" if answer.open == 1 else f"{answer.open} things are open"
    return f"{count}; once settled, {VERDICTS[answer.verdict].lower()}"


def headline(board: DayBoard, units: str) -> str:
    """The answer in one sentence."""
    now = board.now
    parts = [then(now)]
    if now.verdict == "change" and now.changed is not None:
        told = changes(now.planned, now.changed, units)
        parts = [f"{parts[0]}: {told}" if parts[0] else told]
    if now.verdict == "wait":
        later = next((h.time for h in board.hours if h.verdict in ("go", "change")), "")
        parts.append(f"the forecast is better at {later}" if later else "")
    if now.verdict != "go":
        before = "as planned, " if now.verdict == "change" else ""
        parts.append(before + now.reason.told(units))
    told = " ".join(f"{part[:1].upper()}{part[1:]}." for part in parts if part)
    return told or "Nothing that is known forbids it."


def changes(planned: Choice, changed: Choice, units: str) -> str:
    """What of the plan is changed: "fly H-a, take 3 s out, use the 3 m rail"."""
    told = []
    if changed.motor != planned.motor:
        told.append(f"fly {changed.motor_name}")
    out, same = changed.delay_out_s, changed.motor == planned.motor
    if out is not None and not (same and out == planned.delay_out_s):
        told.append(f"take {brief(out, 'time')} out" if out else "leave the delay as sold")
    if changed.canopy != planned.canopy:
        told.append(f"pack the canopy {changed.canopy}")
    if changed.rail_m != planned.rail_m:
        told.append(f"use the {rail_long(changed.rail_m, units)} rail")
    aims = [(each.tilt_rad, each.azimuth_rad) for each in (planned, changed)]
    if aims[0] != aims[1]:
        told.append(aim(changed, units))
    return ", ".join(told) or "nothing"


def rail_long(length_m: float, units: str) -> str:
    """Length of a rail as it is called at the field, in metres or feet however short."""
    return brief(length_m, "length", units, FAR_UNIT[units])


def aim(choice: Choice, units: str) -> str:
    """How the rail stands: "stand the rail upright", "lean the rail 5 deg to 90 deg (east)"."""
    if choice.tilt_rad == 0.0:
        return "stand the rail upright"
    lean = f"lean the rail {brief(choice.tilt_rad, 'angle', units)}"
    if choice.azimuth_rad is None:
        return f"{lean} into the wind"
    return f"{lean} to bearing {brief(choice.azimuth_rad, 'angle', units)}"


def fails(choice: Choice) -> str:
    """Its chance as flights."""
    return at_least(speak(choice.chance, choice.low, choice.high), choice.chance, choice.unknown)


def footprints(choice: Choice) -> str:
    """How much comes down where it should not, opened and unopened."""
    shares = (
        ("off the field under canopy", choice.off_field),
        ("off the field if nothing opens", choice.unopened_off),
        ("near people if nothing opens", choice.unopened_near),
    )
    return ", ".join(
        f"{'not known' if share is None else f'{100 * share:.0f} in 100'} {what}"
        for what, share in shares
    )


def walk_away(board: DayBoard, units: str) -> str:
    """The wind at which to walk away."""
    why = board.walk_why.told(units)
    if board.walk_m_s is None:
        return f"Walk away at any wind tried: {why}." if why else "Walk away at any wind tried."
    wind = brief(board.walk_m_s, "wind", units)
    if board.walk_more:
        return f"Nothing that is known forbids it up to {wind}, the highest wind tried."
    above = f"Walk away above a mean wind of {wind}: {why[:1].lower()}{why[1:]}."
    return f"{above} {CHOSEN}"


def gusts(answer: HourAnswer, units: str) -> str:
    """The gusts of an hour, as fine as an anemometer reads them."""
    return brief(round(answer.gust_m_s, 1), "wind", units)


def weather(answer: HourAnswer, units: str) -> str:
    """An hour's weather in one line."""
    base = answer.cloud_base_m
    parts = [
        f"wind {brief(answer.wind_m_s, 'wind', units)}",
        f"gusts {gusts(answer, units)}",
        f"from {brief(answer.wind_from_rad, 'angle', units)}",
        "cloud base not known" if base is None else f"cloud at {brief(base, 'length', units)}",
        brief(answer.temperature_k, "temperature", units),
    ]
    return ", ".join(parts)


def aloft(board: DayBoard, units: str) -> str:
    """What others' flights said of the wind aloft; empty without any."""
    told = board.aloft
    if told is None:
        return ""
    before, now = (each[0] for each in (told.exponent, told.exponent_now))
    flights = "1 flight" if told.flights == 1 else f"{told.flights} flights"
    words = (
        f"{flights} seen: the wind grows with height by the exponent {now:.2f} "
        f"±{told.exponent_now[1]:.2f} (before {before:.2f} ±{told.exponent[1]:.2f}), and comes "
        f"from {brief(told.from_now_rad[0], 'angle', units)}"
    )
    pairs = [
        f"drifted at {brief(drift, 'wind', units)}, expected {brief(expected, 'wind', units)}"
        for drift, expected in zip(told.drift_m_s, told.expected_m_s)
    ]
    return f"{words}; {'; '.join(pairs)}." if pairs else f"{words}; no drift was told."
