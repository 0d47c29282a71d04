"""What the rows of workmanship ask for: glue joints, coats, steps and checks of the workshop."""

from goodflight.studies.asking import BUILD, asked, choice, entry, names, words
from goodflight.studies.case.joints import GluedJoint
from goodflight.studies.case.planned import Case
from goodflight.studies.case.workshop import Coat
from goodflight.studies.results import Entry
from goodflight.studies.sampling.quantity import Missing

_CAN, _SHEET = "read it on the can", "read it on the glue's sheet"
_LAY = "read a thermometer where it lay"


def _time(place: str, label: str, how: str, minutes: float = 2.0) -> Entry:
    return entry(
        f"{BUILD}:{place}",
        label,
        how=how,
        dimension="time",
        instrument="clock or sheet",
        minutes=minutes,
    )


def _warmth(place: str, label: str, how: str = _LAY) -> Entry:
    return entry(
        f"{BUILD}:{place}",
        label,
        how=how,
        dimension="temperature",
        instrument="thermometer",
        minutes=2.0,
    )


def _damp(place: str, label: str) -> Entry:
    return entry(
        f"{BUILD}:{place}",
        label,
        how="read a hygrometer",
        dimension="ratio",
        instrument="hygrometer",
        minutes=2.0,
    )


def no_joints(case: Case, part: str = "") -> Missing:
    """A first glue joint, whole; or that of a part, by the glue of the others."""
    glue = next((joint.glue for joint in case.workshop.joints), "")
    sheet = (
        _time("glue[+].working_time", "working time of the glue", _SHEET),
        _time("glue[+].cure", "cure time of the glue", _SHEET),
    )
    which = f"glue joint of {part}" if part else "glue joints"
    return asked(
        f"write the {which}: parts, glue with the times of its sheet, and where "
        f"{'it' if part else 'each joint'} lay how long until the flight",
        names(
            f"{BUILD}:joint[+].parts",
            "parts glued together",
            "the fins, the rings and what they stand on, if one glue-up",
            case,
        ),
        words(f"{BUILD}:joint[+].name", "name of the joint", "as you call it", part or "fins"),
        words(f"{BUILD}:joint[+].glue", "glue", "as you call it", glue or "epoxy"),
        *(() if glue else sheet),
        _time("joint[+].work", "time the glue-up takes", "time a dry run", 30.0),
        _warmth("joint[+].stay[+].temperature", "temperature where it lay"),
        _time("joint[+].stay[+].time", "how long it lay there until the flight", "count the days"),
    )


def of_joint(joint: GluedJoint, cure: bool, work: bool) -> Missing | None:
    """What one joint lacks: where it lay, and the times of its glue that are asked for."""
    at, glue = f"joint[{joint.name}]", f"glue[{joint.glue}]"
    asks = []
    if cure and joint.cure_h is None:
        asks.append(_time(f"{glue}.cure", f"cure time of {joint.glue}", _SHEET))
    if work and joint.working_s is None:
        asks.append(_time(f"{glue}.working_time", f"working time of {joint.glue}", _SHEET))
    if work and joint.work_s is None:
        asks.append(_time(f"{at}.work", f"time to glue {joint.name}", "time a dry run of it", 30.0))
    for place in joint.untold:
        asks.append(_warmth(f"workplace[{place}].temperature", f"temperature of the {place}"))
    if not joint.stays and not joint.untold:
        asks += [
            _warmth(f"{at}.stay[+].temperature", f"temperature where {joint.name} lay"),
            _time(f"{at}.stay[+].time", f"how long {joint.name} lay there", "count the days"),
        ]
    said = ", ".join(each.label for each in asks)
    return asked(f"joint {joint.name} lacks a figure: {said}", *asks) if asks else None


def no_coats() -> Missing:
    """A first coat of paint, whole; or that there is none."""
    return asked(
        "if the rocket is painted, write down each coat: where, humidity, times",
        choice(
            f"{BUILD}:painted",
            "whether the rocket is painted",
            "look at it",
            [("false", "not painted")],
        ),
        words(f"{BUILD}:paint[+].name", "coat of paint", "as you call it", "colour"),
        *_of_coat("paint[+]", "", Coat("", "")),
        *_times("paint[+]", "", Coat("", "")),
    )


def _of_coat(at: str, name: str, coat: Coat) -> list[Entry]:
    asks, whose = [], f" of {name}" if name else ""
    if coat.temperature_k is None:
        asks.append(_warmth(f"{at}.temperature", f"temperature at the painting{whose}"))
    if coat.humidity is None:
        asks.append(_damp(f"{at}.humidity", f"humidity at the painting{whose}"))
    return asks


def _times(at: str, name: str, coat: Coat) -> list[Entry]:
    asks, whose = [], f" of {name}" if name else ""
    if coat.recoat_least_s is None:
        asks.append(_time(f"{at}.recoat_min", f"earliest next coat{whose}", _CAN))
    if coat.recoat_most_s is None:
        asks.append(_time(f"{at}.recoat_max", f"latest next coat{whose}", _CAN))
    if coat.interval_s is None:
        asks.append(_time(f"{at}.interval", f"time you leave between coats{whose}", "as planned"))
    return asks


def damp_coats(coats: tuple[Coat, ...]) -> Missing | None:
    """What coats lack for the dew point."""
    asks = [ask for coat in coats for ask in _of_coat(f"paint[{coat.name}]", coat.name, coat)]
    advice = "say how warm and damp it was where each coat dried"
    return asked(advice, *asks) if asks else None


def untimed_coats(coats: tuple[Coat, ...]) -> Missing | None:
    """What coats lack for the time to the next."""
    asks = [ask for coat in coats for ask in _times(f"paint[{coat.name}]", coat.name, coat)]
    advice = "give the recoat times from the can, and the interval you plan"
    return asked(advice, *asks) if asks else None


def no_steps(case: Case) -> Missing:
    """Two steps: one that fits something, one that closes it in."""
    inside = "what is fitted before it is closed in"
    return asked(
        "write down the steps of the build: what each one fits and what it closes",
        names(f"{BUILD}:step[+].fits", inside, "an anchor, ballast, wires: parts by name", case),
        words(f"{BUILD}:step[+].name", "name of that step", "as you call it", "fitted inside"),
        names(f"{BUILD}:step[+2].closes", "what the later step closes in", "the same parts", case),
        words(f"{BUILD}:step[+2].name", "name of the later step", "as you call it", "closed"),
    )


def to_check(left: list[str]) -> Missing:
    """Fasteners nobody has looked at."""
    both = (("tight", "tight"), ("loose", "loose"))
    at = [(f"check[{name}]", name) for name in left] or [("check[+]", "screws, nuts and links")]
    asks = [choice(f"{BUILD}:{place}.state", name, "try it by hand", both) for place, name in at]
    if not left:
        name = words(
            f"{BUILD}:check[+].name",
            "what is checked",
            "as you call it",
            "every screw, nut and link",
        )
        asks.append(name)
    what = ", ".join(left) or "every screw, nut and link"
    return asked(f"check by hand and enter as tight: {what}", *asks)


def no_limit() -> Missing:
    """How straight the builder holds the fins."""
    how = "what your guide or your eye can hold, like 1 deg"
    return asked(
        "state the limit you hold the fins to, like 1 deg",
        entry(
            f"{BUILD}:fin_limit",
            "limit you hold the fins to",
            how=how,
            dimension="angle",
            instrument="guide",
            minutes=2.0,
        ),
    )
