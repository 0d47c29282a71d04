"""What goes into the car: from the project's own parts, its plan, and what its rows say can fail.

Counts are for one attempt and one more. Practice, no source.
"""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from typing import Annotated, Final

from goodflight.physics.vehicle.parts import Cord, Fins
from goodflight.project.head.separation import RetentionKind
from goodflight.studies.canopy_name import canopy_words
from goodflight.studies.case.planned import Case, canopy_of, separation_of
from goodflight.studies.lists.checklists import prevented
from goodflight.studies.lists.facts import Facts, facts_of

ATTEMPTS: Final = 2
BOXES: Final = (
    "papers", "rocket", "motor", "recovery", "electronics", "pad", "measuring", "search", "people",
)  # fmt: skip
HOLDS: Final[dict[RetentionKind, str]] = {
    "cap": "what turns the retainer's cap",
    "clips": "screwdriver and spare screws for the clips",
    "friction": "tape for the motor's fit",
}
# row -> what to carry when it is not ok
SPARES: Final[dict[str, tuple[str, str]]] = {
    "zipper": ("recovery", "guard or wide tape for the tube's edge"),
    "snatch_cord": ("recovery", "second cord and two links"),
    "opening_cord": ("recovery", "second cord and two links"),
    "snatch_anchor": ("recovery", "spare closed eye, nut, washers"),
    "anchor": ("recovery", "spare closed eye, nut, washers"),
    "canopy_scorched": ("recovery", "second blanket or more wadding"),
    "opening_canopy": ("recovery", "spare canopy, needle and thread"),
    "gear_fits": ("recovery", "smaller canopy, or a thinner wrap"),
    "canopy_stays": ("recovery", "dry lubricant for the tube"),
    "separation_shut": ("recovery", "fine sandpaper for the fit"),
    "separation_window": ("recovery", "fine sandpaper for the fit"),
    "drag_separation": ("recovery", "more tape, or pins, for the fit"),
    "landing_speed": ("recovery", "larger canopy"),
    "off_field": ("recovery", "smaller canopy"),
    "battery": ("electronics", "one more set of cells"),
    "recording": ("electronics", "larger memory card"),
    "guides": ("pad", "spare rail guides and screws"),
    "fin_strike": ("people", "fast glue and a clamp: after the signature only"),
    "tail_strike": ("people", "fast glue and a clamp: after the signature only"),
    "fin_bond": ("people", "fast glue and a clamp: not to fly on the same day"),
    "too_early": ("motor", "second motor with its delay as sold"),
    "too_late": ("motor", "second motor with its delay as sold"),
    "ceiling": ("motor", "smaller motor"),
}


@dataclass(frozen=True)
class Carried:
    """One thing to carry."""

    box: Annotated[str, "which box"]
    what: Annotated[str, "the thing"]
    count: Annotated[int, "how many; 0 = to be counted by hand"]
    why: Annotated[str, "what it is for, or what can fail; empty = plain"]
    fitted: Annotated[bool, "true: the project does not say whether the rocket needs it"]


def carry_of(case: Case, weak: Collection[str] = ()) -> tuple[Carried, ...]:
    """What to carry for a planned flight.

    Parameters
        case : Case - the planned flight. [SI]
        weak : collection of str - keys of rows that are not ok. [-]
    Returns
        things : tuple of Carried - by box, in the order in which they are needed. [-]
    Raises
        nothing
    Validity
        A list to think with; motors and powder travel as the law and their makers' sheets say.
    Source
        Practice, no source.
    Example
        none
    """
    facts = facts_of(case)
    found = [
        *_papers(case),
        *_rocket(case),
        *_motor(case, facts),
        *_recovery(case, facts),
        *_electronics(case, facts),
        *_pad(),
        *_measuring(),
        *_search(),
        *_people(case),
        *_spares(weak),
    ]
    once = {(each.box, each.what): each for each in reversed(found)}
    kept = [each for each in found if once[each.box, each.what] is each]
    return tuple(sorted(kept, key=lambda each: BOXES.index(each.box)))


def _thing(box: str, what: str, count: int = 1, why: str = "", fitted: bool = False) -> Carried:
    return Carried(box, what, count, why, fitted)


def _papers(case: Case) -> Iterator[Carried]:
    yield _thing("papers", "membership card, form of the attempt", 1)
    yield _thing("papers", "evidence sheet, labels stuck on", 1)
    yield _thing("papers", "flight card, cards and checklists, cut", ATTEMPTS)
    yield _thing("papers", f"maker's sheet of {case.motor.name}")
    yield _thing("papers", "the code's text; landowner's and club's numbers")
    yield _thing("papers", "clear sleeves, clipboard, two pens that write when wet")


def _rocket(case: Case) -> Iterator[Carried]:
    for part in case.rocket.parts:
        if part.stands == "body":
            yield _thing("rocket", part.name)
        if isinstance(part, Fins):
            yield _thing("rocket", f"{part.name}: padded for the road")
    yield _thing("rocket", "stand or foam to work on")


def _motor(case: Case, facts: Facts) -> Iterator[Carried]:
    kind = separation_of(case).retention
    yield _thing("motor", f"motor {case.motor.name} with all its parts, by its maker's sheet")
    yield _thing("motor", "second choice for wind or cloud: ______", 0)
    yield _thing("motor", "case, closures and tools by the maker's sheet")
    yield _thing("motor", "igniters, apart from the motor", 2 * ATTEMPTS, prevented("ignition"))
    yield _thing("motor", "seals and grease by the maker's sheet", ATTEMPTS, prevented("burst"))
    if facts["shortened"]:
        yield _thing("motor", "maker's tool for the delay", 1, "delay to be shortened")
    if case.motor.adapter_diameter_m is not None:
        yield _thing("motor", "adapter for the motor tube")
    if kind is None:
        yield _thing("motor", "what holds the motor, and its tool", 1, "", True)
    else:
        yield _thing("motor", HOLDS[kind], 1, prevented("motor_pushed_out"))
    if facts["powder"] is not False:
        yield _thing(
            "motor",
            "powder and its lighters, only as the law and the site allow",
            2 * ATTEMPTS,
            "",
            facts["powder"] is None,
        )


def _recovery(case: Case, facts: Facts) -> Iterator[Carried]:
    flown, main = canopy_of(case), case.deployment.main_canopy
    used = [each.name for each in (flown, main) if each is not None]
    others = [each.name for each in case.deployment.canopies if each.name not in used]
    for name in (*used, *others):
        yield _thing("recovery", canopy_words(name), 1, "" if name in used else "the other choice")
    for cord in case.rocket.of_kind(Cord):
        yield _thing("recovery", f"{cord.name} with its links, and two links more", 1)
    if facts["blanket"] is not False:
        yield _thing("recovery", "heat blanket", 1, "", facts["blanket"] is None)
    if facts["wadding"] is not False:
        yield _thing("recovery", "wadding", ATTEMPTS, "", facts["wadding"] is None)
    if facts["pins"]:
        pins = separation_of(case).pins
        yield _thing("recovery", "shear pins of the kind tested", 2 * ATTEMPTS * pins)
    else:
        yield _thing("recovery", "tape and fine sandpaper for the fit", 1, prevented("cocked"))
    if facts["ballast"]:
        yield _thing("recovery", "ballast and what fixes it", 1)


def _electronics(case: Case, facts: Facts) -> Iterator[Carried]:
    if facts["switched"] is False:
        return
    carried = [each for each in case.deployment.devices if each.on_board]
    unsaid = not carried
    for each in carried:
        yield _thing("electronics", f"{each.name}: its cells and one set more, taped or cased")
    if unsaid:
        yield _thing("electronics", "cells for what is switched on, and one set more", 1, "", True)
    yield _thing("electronics", "tool for the switch, settings written down", 1, "", unsaid)
    if facts["records"] is not False:
        yield _thing("electronics", "memory card and reader", 2, "", facts["records"] is None)


def _pad() -> Iterator[Carried]:
    yield _thing("pad", "tape, knife, wire strippers, sandpaper for the clips")
    yield _thing("pad", "cloth and wax for the rail; level or angle gauge")
    yield _thing("pad", "eye protection and gloves", 2)
    yield _thing("pad", "water or extinguisher as the site asks", 1, prevented("fire"))


def _measuring() -> Iterator[Carried]:
    yield _thing(
        "measuring", "wind meter, its height to be written down", 1, prevented("rail_exit")
    )
    yield _thing("measuring", "luggage scale with peak hold", 1, prevented("separation_window"))
    yield _thing(
        "measuring", "kitchen scale, angle bar as an edge, ruler", 1, prevented("margin_small")
    )
    yield _thing("measuring", "thermometer, clock that stops", 1)


def _search() -> Iterator[Carried]:
    yield _thing(
        "search", "field glasses, compass, phone with the map kept offline", 1, prevented("lost")
    )
    yield _thing("search", "boots, lamp, whistle, bright tape to mark a line")


def _people(case: Case) -> Iterator[Carried]:
    yield _thing("people", "water, food, sun and rain clothes, cash")
    help_at = case.field_says.hospital or "______; field at: ______"
    yield _thing("people", f"first aid; nearest hospital: {help_at}", 1)
    yield _thing("people", "a reader for the lists, two watchers: ______ ______ ______", 0)


def _spares(weak: Collection[str]) -> Iterator[Carried]:
    for key, (box, what) in SPARES.items():
        if key in weak:
            yield _thing(box, what, 1, prevented(key))
