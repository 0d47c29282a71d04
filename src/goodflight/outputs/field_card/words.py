"""The field card in words: what is at the top, what to do in a cell, why."""

import math
from dataclasses import dataclass
from typing import Final

from goodflight.outputs.field.day_words import rail_long
from goodflight.outputs.field_map.field_words import toward_words
from goodflight.outputs.scale.text import sentence
from goodflight.outputs.words import at_least, speak
from goodflight.quantity import brief, show
from goodflight.studies.field.card import CardMotor, FieldCard
from goodflight.studies.field.checks import Check, forbids, told_of
from goodflight.studies.field.grid import GridCell, Point

STATES: Final = {
    "ok": "ok",
    "marginal": "marginal",
    "fails": "a row fails",
    "unknown": "not all is known",
}


@dataclass(frozen=True)
class CellWords:
    """What is shown of one cell.

    do : what to do, a line each. chance : that anything fails; state : what a ledger calls it;
    why : rows of name and value; refuse : why it is not flown; empty = no rule against it.
    """

    do: tuple[str, ...]
    chance: str
    state: str
    why: tuple[tuple[str, str], ...]
    refuse: str


def top_lines(card: FieldCard, units: str) -> tuple[tuple[str, str], ...]:
    """What is looked at first: a name and a figure each."""
    plan = card.planned
    motor = motor_of(card, plan)
    return (
        ("delay", delay_words(motor, plan.delay_out_s)),
        ("pull", _pull(card, units)),
        ("refuse", refuse_words(card, units)),
        ("aim", lean_words(card, plan, units)),
    )


def _pull(card: FieldCard, units: str) -> str:
    if card.pull_min_n is None or card.pull_max_n is None:
        return "Pull of the separation: not known"
    least, most = (brief(force, "force", units) for force in (card.pull_min_n, card.pull_max_n))
    if card.pull_min_n > card.pull_max_n:
        return f"Pull of the separation: no force holds ({least} least, {most} most)"
    return f"Pull it apart: {least} to {most}"


def refuse_words(card: FieldCard, units: str) -> str:
    """Above which wind the flight is refused."""
    if card.refuse_above_m_s is None:
        return "Do not fly: too much fails in every wind of this card"
    height = brief(card.grid.wind_height_m, "length", units)
    return f"Refuse wind above {brief(card.refuse_above_m_s, 'wind', units)}, mean at {height}"


def pull_advice(card: FieldCard) -> tuple[str, ...]:
    """What is missing to know the pull, or to do about it."""
    return tuple(dict.fromkeys(sentence(each) for each in card.pull_advice))


def refuse_why(card: FieldCard, units: str) -> str:
    """What turns it."""
    if card.refused is None:
        return "Higher winds were not worked out."
    wind = brief(card.refused.wind_m_s, "wind", units)
    why = "; ".join(_told(each, units) for each in forbids(card.refused.forbidden))
    return (
        "That limit is for what the table names at each wind, not for another motor, delay or "
        "lean. "
        f"At {wind} even that is too much: {why}."
    )


def limits_words(card: FieldCard, units: str) -> str:
    """The own limits, and who signed them."""
    if not card.limits:
        return "Own limits: none agreed. Agree and sign them before the day."
    signed = f"signed by {card.signed}" if card.signed else "signed by nobody: sign them first"
    return f"Own limits: {', '.join(each.told(units) for each in card.limits)}; {signed}."


def _told(check: Check, units: str) -> str:
    return told_of(check).told(units)


def delay_words(motor: CardMotor, out_s: float) -> str:
    """How much is taken out of the delay, and what is left."""
    if motor.delay_s is None:
        return f"{motor.name}: no delay to shorten"
    left = brief(motor.delay_s - out_s, "time")
    if not out_s:
        return f"{motor.name}: leave the delay as sold, {left} after burnout"
    return f"{motor.name}: take {brief(out_s, 'time')} out of the delay, {left} after burnout left"


def lean_words(card: FieldCard, cell: GridCell, units: str) -> str:
    """How the rail stands."""
    rail = rail_long(card.grid.rail_m, units)
    if not cell.tilt_rad:
        return f"Rail of {rail}: upright"
    where = "into the wind" if card.aim_rad is None else f"towards {toward_words(card.aim_rad)}"
    return f"Rail of {rail}: lean it {brief(cell.tilt_rad, 'angle', units)} {where}"


def by_wind(card: FieldCard, units: str) -> tuple[tuple[str, CellWords], ...]:
    """Each wind with what fails least at it."""
    return tuple(
        (brief(cell.wind_m_s, "wind", units), cell_words(card, cell, units)) for cell in card.best
    )


def wind_words(card: FieldCard) -> str:
    """For which direction of the wind the landings stand."""
    return (
        f"Landings stand for wind from the {toward_words(card.grid.wind_from_rad)}. When it blows "
        "from elsewhere, turn them with it and look again where people are."
    )


def stands_words(card: FieldCard) -> str:
    """What the card was worked out for."""
    grid = card.grid
    most = max(cell.flights for cell in grid.cells)
    more = f", {most} where these cannot tell" if most > grid.flights else ""
    return (
        f"Worked out for {grid.site}, canopy {grid.canopy or 'not known'}, gusts "
        f"{grid.gust_factor:.2g} times the mean wind, {grid.flights} flights each{more}; the air "
        "of the plan's day. Mean wind over two minutes, measured now."
    )


def motor_of(card: FieldCard, cell: GridCell) -> CardMotor:
    """The motor of a cell."""
    return next(each for each in card.motors if each.key == cell.motor)


def cell_words(card: FieldCard, cell: GridCell, units: str) -> CellWords:
    """Everything that is shown of a cell; what is not known says so."""
    motor = motor_of(card, cell)
    do = delay_words(motor, cell.delay_out_s), lean_words(card, cell, units)
    worst = card.titles[cell.worst] if cell.worst else "none failed"
    share = f", {speak(cell.worst_chance).removeprefix('about ')}" if cell.worst else ""
    apogee = show(cell.apogee_m, "length", units)
    high = f"; 19 in 20 below {show(cell.apogee_high_m, 'length', units)}"
    why = (
        ("mainly", f"{worst}{share}"),
        ("off the field or in a keep-out", _share(cell.off_field)),
        ("would reach people unopened", _share(cell.unopened_near)),
        ("apogee", apogee if cell.apogee_m is None else apogee + high),
        ("comes down", _place(cell.landing_m, units)),
        ("if nothing opens", _place(cell.unopened_m, units)),
    )
    unknown = (("not known", _titles(card, cell.unknown)),) if cell.unknown else ()
    wrong = "; ".join(_told(each, units) for each in cell.forbidden)
    unmet = f"Not allowed: {wrong}" if wrong else ""
    return CellWords(do, _chance(cell), STATES[cell.state], (*unknown, *why), unmet)


def _chance(cell: GridCell) -> str:
    return at_least(speak(cell.chance, cell.low, cell.high), cell.chance, len(cell.unknown))


def _share(share: float | None) -> str:
    return "not known" if share is None else speak(share) if share else "none of these flights"


def _place(at: Point | None, units: str) -> str:
    if at is None:
        return "not known"
    return f"{show(math.hypot(*at), 'length', units)} {toward_words(math.atan2(*at))}"


def _titles(card: FieldCard, keys: tuple[str, ...]) -> str:
    return "; ".join(card.titles[key] for key in keys)
