"""What stands on the small cards: the flight's own figures, and places for a pen.

Our own forms. The organisation's form is the one that counts; these carry figures to it.
"""

from dataclasses import dataclass, replace
from typing import Annotated, Final, Literal

import numpy as np

from goodflight.constants import INCH_M
from goodflight.physics.motor import motor_class, total_impulse_ns
from goodflight.project.newcomer_assumed import own_words
from goodflight.quantity import brief
from goodflight.studies.case.planned import Case
from goodflight.studies.evidence.seen import Seen
from goodflight.studies.lists.carry import Carried, carry_of
from goodflight.studies.lists.checklists import Checklist, checklists_of
from goodflight.studies.lists.facts import PEN, facts_of, fills_of, lean_words
from goodflight.studies.lists.step import BLANK

CardKey = Literal["flight", "misfire", "landed", "witness"]
Paper = Literal["cards", "lists", "carry"]
PAPERS: Final[tuple[Paper, ...]] = ("cards", "lists", "carry")
ABOUT: Final = 100  # letters of the rocket's description on its flight card
SEEN: Final = (
    "left the rail and went straight",
    "opened by itself, near the top",
    "came down under its canopy",
    "found and shown as it landed, unrepaired",
    "nothing fell off, motor still in place",
    "could fly again without repair",
)


@dataclass(frozen=True)
class Field:
    """One line of a form: what it is, what the project fills in; empty = left for a pen."""

    label: Annotated[str, "what it is"]
    value: Annotated[str, "filled in from the project; a row of strokes is a place for a pen"]


@dataclass(frozen=True)
class PaperCard:
    """One small card: lines to fill, things to tick, cautions."""

    key: Annotated[CardKey, "flight, misfire, landed or witness"]
    title: Annotated[str, "its name"]
    lead: Annotated[str, "one line under it"]
    fields: Annotated[tuple[Field, ...], "lines of the form"]
    ticks: Annotated[tuple[str, ...], "to tick"]
    cautions: Annotated[tuple[str, ...], "keys of its own cautions, beside those of every card"]


@dataclass(frozen=True)
class FieldPapers:
    """Everything for the day but the evidence: cards, lists, what to carry; or one of the three."""

    what: Annotated[Paper | None, "cards, lists or carry; null = all of them"]
    rocket: Annotated[str, "its name"]
    plan: Annotated[str, "name of the plan"]
    motor: Annotated[str, "of the plan"]
    cards: Annotated[tuple[PaperCard, ...], "small cards"]
    lists: Annotated[tuple[Checklist, ...], "checklists with call and response"]
    carried: Annotated[tuple[Carried, ...], "what goes into the car"]
    invented: Annotated[bool, "whether rocket and motor are made up"]
    stamp: Annotated[str, "mark of the same sheet in metric units; empty = its own"] = ""

    def only(self, what: Paper) -> "FieldPapers":
        """What one printed sheet shows of it."""
        lists = {"cards": tuple(x for x in self.lists if x.key == "misfire"), "lists": self.lists}
        return replace(
            self,
            what=what,
            cards=self.cards if what == "cards" else (),
            lists=lists.get(what, ()),
            carried=self.carried if what == "carry" else (),
        )


def papers_of(seen: Seen, units: str = "metric") -> FieldPapers:
    """Cards, checklists and packing list of a planned flight.

    Parameters
        seen : Seen - the plan, flown, for figures and spares. [-]
        units : str - "metric" or "imperial". [-]
    Returns
        papers : FieldPapers - with the plan's figures, blanks where none is known. [-]
    Raises
        nothing
    Validity
        As the ledger; reminders, no permission. The range safety officer decides.
    Source
        Practice, no source.
    Example
        none
    """
    case = seen.case
    window = (seen.window.min_n, seen.window.max_n)
    weak = {key for key, row in seen.rows.items() if row.state in ("fails", "marginal")}
    cards = (_flight(seen, units), _misfire(case), _landed(seen, units), _witness(seen))
    return FieldPapers(
        what=None,
        rocket=case.rocket.name,
        plan=case.plan,
        motor=case.motor.name,
        cards=cards,
        lists=checklists_of(case, window, units),
        carried=carry_of(case, weak),
        invented=case.origin.invented,
    )


def _told(seen: Seen, outcome: str, kind: str, units: str) -> str:
    """The middle of an outcome; a blank where the rocket was not weighed or it does not happen."""
    values = seen.view.outcome(outcome)
    if not seen.weighed or not np.isfinite(values).any():
        return BLANK
    return brief(seen.median(values), kind, units)


FIRST: Final = {
    None: f"[ ] yes  [ ] no, flown {BLANK}",
    "yes": "yes: announced, farther pad",
    "no": f"no, flown {BLANK}",
}


def _flight(seen: Seen, units: str) -> PaperCard:
    case, fills = seen.case, fills_of(seen.case, units=units)
    impulse = total_impulse_ns(case.motor)
    opens = "altimeter" if facts_of(case)["altimeter"] else f"delay {fills['delay_left']}"
    level = "" if case.rules.level in ("", "none") else case.rules.level
    apogee = _told(seen, "apogee_m", "length", units)
    long, wide = (_size(each, units) for each in (seen.layout.length_m, seen.layout.diameter_m))
    size = f"{long} long, {wide}"
    fields = (
        Field("flyer", BLANK * 3),
        Field("card no.", BLANK * 2),
        Field("attempt for", level or BLANK),
        Field("rocket", f"{size}; {_short(own_words(seen.project)) or BLANK * 3}"),
        Field("ready to fly", fills["mass"] if seen.weighed else f"{BLANK} {fills['mass_in']}"),
        Field(
            "motor",
            f"{case.motor.name}, {motor_class(impulse)}, {brief(impulse, 'impulse', units)}",
        ),
        Field("opens by", f"{opens}, {fills['canopy']}"),
        Field(
            "rail",
            f"{fills['rail']}, {lean_words(case, units)}; leaves it at "
            + _told(seen, "rail_exit_m_s", "speed", units),
        ),
        Field(
            "expected", f"apogee {apogee}, down after " + _told(seen, "landing_s", "time", units)
        ),
        Field("first flight", FIRST[case.plan_says.first_flight]),
        Field("heads-up for", BLANK * 3),
        Field("pad, order", f"{BLANK}  {BLANK}"),
        Field("I stop at", f"mean {BLANK} gust {BLANK} cloud {BLANK}"),
        Field("officer", f"{BLANK} at {BLANK} o'clock"),
    )
    return PaperCard(
        key="flight",
        title="Flight card",
        lead="Igniter outside the motor until the pad.",
        fields=fields,
        ticks=(),
        cautions=("motor",),
    )


def _size(value_m: float, units: str) -> str:
    """A size of the rocket, to whole millimetres or tenths of an inch."""
    if units == "imperial":
        return f"{value_m / INCH_M:.1f} in"
    return f"{1e3 * value_m:.0f} mm"


def _short(words: str) -> str:
    """As much of a remark as a card has room for, whole words."""
    return words if len(words) <= ABOUT else words[:ABOUT].rsplit(" ", 1)[0] + " …"


def _misfire(case: Case) -> PaperCard:
    fields = (
        Field("spare igniter", f"{BLANK} ohm"),
        Field("who goes", BLANK * 2),
        Field("help, field at", _short(case.field_says.hospital) or BLANK * 3),
    )
    keys = ("switches",) if facts_of(case)["altimeter"] else ()
    return PaperCard(
        key="misfire",
        title="Misfire",
        lead="It did not start. Nobody moves.",
        fields=fields,
        ticks=(),
        cautions=keys,
    )


def _landed(seen: Seen, units: str) -> PaperCard:
    far = PEN[units]["far_in"]
    apogee = _told(seen, "apogee_m", "length", units)
    names = (
        ("burnout", "burnout_s"),
        ("top", "apogee_s"),
        ("opened", "ejection_s"),
        ("down", "landing_s"),
    )
    times = tuple(
        Field(words, f"{BLANK} s  (worked out: {_told(seen, outcome, 'time', units)})")
        for words, outcome in names
    )
    fields = (
        Field("ignition", f"{BLANK} o'clock; wind {BLANK} gust {BLANK}"),
        *times,
        Field("height", f"{BLANK} {far} by {BLANK}  (worked out: {apogee})"),
        Field("came down", f"{BLANK} deg, {BLANK} {far} from the pad"),
        Field("leaned, spun", BLANK * 3),
        Field("opened", "[ ] climbing  [ ] at the top  [ ] falling"),
        Field("damage", f"[ ] none  [ ] {BLANK * 2}"),
        Field("charge", "[ ] fired  [ ] still live: disarmed at " + BLANK),
    )
    return PaperCard(
        key="landed",
        title="After the flight",
        lead="Photo first. Disarm first. Nothing repaired.",
        fields=fields,
        ticks=("all parts there, counted", "photos, as it lay", "log copied, closed"),
        cautions=(),
    )


def _witness(seen: Seen) -> PaperCard:
    fields = (
        Field("flight of", f"{seen.case.rocket.name}, motor {seen.case.motor.name}"),
        Field("flyer", BLANK * 3),
        Field("day, time", f"{BLANK}  {BLANK}  at {seen.case.site.name}"),
        Field("result", "[ ] passed  [ ] not, because " + BLANK),
        Field("witness", f"{BLANK * 2} level {BLANK}"),
        Field("signed", f"{BLANK * 2} day {BLANK}"),
    )
    lead = "What the witness saw. The organisation's own form is the one that counts."
    return PaperCard(
        key="witness", title="Witness summary", lead=lead, fields=fields, ticks=SEEN, cautions=()
    )
