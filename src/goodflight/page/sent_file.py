"""The answer of a plan as one file to read: ledger, drawing, evidence, and how all is known."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Final

from markupsafe import Markup

from goodflight.outputs.drawing.alone import side_svg
from goodflight.outputs.drawing.svg import drawing_svg
from goodflight.outputs.field_map import field_words
from goodflight.outputs.field_map.svg import SHAPES, field_svg
from goodflight.outputs.field_sheets import evidence_words
from goodflight.outputs.flight.delay import delay_svg
from goodflight.page.alone import stand_alone
from goodflight.page.view import shared
from goodflight.page.what_if import rows_of
from goodflight.project import Project
from goodflight.studies.bench.stamps import of_answer
from goodflight.studies.case.project_case import case_of
from goodflight.studies.motor_results import DelayStudy
from goodflight.studies.questions.delay import acts, delay_of
from goodflight.studies.questions.evidence import FLIGHTS as EVIDENCE_FLIGHTS
from goodflight.studies.questions.evidence import Evidence, evidence_of
from goodflight.studies.questions.landings import FLOWN, Landings, landings_of
from goodflight.studies.questions.layout import Layout, layout_of
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.results import Input, Ledger
from goodflight.studies.unseen import UNSEEN, second_reader

STYLES: Final = ("page.css", "ledger.css", "flight.css", "sent.css")


@dataclass(frozen=True, eq=False)
class Answer:
    """What is sent of a plan, each part as its study hands it back; no delays without one.

    tried : whether changes were flown.
    """

    ledger: Ledger
    layout: Layout
    landings: Landings
    evidence: Evidence
    delays: DelayStudy | None
    tried: bool = True


def send(
    project: Project,
    plan: str | None = None,
    flights: int = 2000,
    seed: int = 1,
    units: str = "metric",
    day: str | None = None,
    remedies: bool = True,
) -> str:
    """Make one HTML file of all that is known of a plan, for somebody to read: no server, no net.

    What can fail, what the inspector asks, drawing, every row with why, landings, delays, every
    figure with how it is known, cautions. It carries the day and a stamp that `stamp` knows.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - name of the plan; None = the first. [-]
        flights : int - simulated. [-]
        seed : int - same seed, same answer on one machine. [-]
        units : str - "metric" or "imperial". [-]
        day : str or None - when it was made; None = today. [-]
        remedies : bool - whether changes are flown as well. [-]
    Returns
        html : str - the file. [-]
    Raises
        NoSuchPlan - no plan has this name; StudyRefused - this rocket cannot be flown.
    Validity
        As the ledger.
    Source
        The ledger, the drawing, the landings and the delays of the plan.
    Example
        >>> goodflight.send(goodflight.load("fieldfare"), flights=60, remedies=False)[:15]
        '<!doctype html>'
    """
    made_on = date.today().isoformat() if day is None else day
    return sent_html(project, answer_of(project, plan, flights, seed, remedies), units, made_on)


def answer_of(
    project: Project, plan: str | None, flights: int, seed: int = 1, remedies: bool = True
) -> Answer:
    """Ask every study that a file to read shows."""
    case = case_of(project, plan)
    ledger = ledger_of(case, flights, seed, remedies)
    delays = delay_of(case, flights, seed) if acts(case) else None
    landings = landings_of(case, min(FLOWN, flights), flights, seed)
    asked = evidence_of(project, case, min(flights, EVIDENCE_FLIGHTS), seed)
    return Answer(
        ledger=ledger,
        layout=layout_of(case),
        landings=landings,
        evidence=asked,
        delays=delays,
        tried=remedies,
    )


def sent_html(project: Project, answer: Answer, units: str, day: str) -> str:
    """The file as text; the same answer on the same day gives the same text."""
    ledger, plan = answer.ledger, answer.ledger.plan
    maps = [field_svg(answer.landings, units, shape) for shape in SHAPES]
    return stand_alone(
        "sent.html",
        STYLES,
        {
            **shared(project, plan, units),
            "read_only": True,
            "day": day,
            "stamp": of_answer(project, plan).stamp,
            "ledger": ledger,
            "layout": answer.layout,
            "full": answer.tried,
            "groups": rows_of(ledger, "flight"),
            "titles": {row.key: row.title for row in ledger.rows},
            "known": known(ledger),
            "evidence": answer.evidence,
            "inspector": evidence_words,
            "side": side_svg(answer.layout, units),
            "wide": drawing_svg(answer.layout, units, "wide", day),
            "narrow": drawing_svg(answer.layout, units, "narrow", day),
            "maps": maps,
            "landings": answer.landings,
            "landing": field_words,
            "delays": Markup(delay_svg(answer.delays, units)) if answer.delays else "",
            "unseen": UNSEEN,
            "second_reader": second_reader(),
            # what a page has and a file has not: nothing is tried, opened, entered or folded away
            "settings": {},
            "before": None,
            "planned": None,
            "old": {},
            "asked": None,
            "opened": "",
            "shut": (),
            "settings_for": lambda remedy: {},
            "settings_of_way": lambda way: {},
        },
    )


def known(ledger: Ledger) -> Sequence[tuple[str, Sequence[Input]]]:
    """Every figure behind the rows once, by how it is known, the least known first."""
    found: dict[object, Input] = {}
    for row in ledger.rows:
        for item in row.inputs:
            said = item.path or (item.label, item.value, item.sigma)  # three fins, one line
            found.setdefault(said, item)
    kinds = ("guess", "label", "measured", "flight")
    groups = [(kind, [item for item in found.values() if item.known == kind]) for kind in kinds]
    return [(kind, items) for kind, items in groups if items]
