"""Whether a printed sheet still shows what the project has: asked by the stamp in its foot."""

import re
import tomllib
from dataclasses import dataclass
from typing import Annotated, Any

from goodflight.project import Project
from goodflight.studies.bench.answers import Book, answer
from goodflight.studies.bench.labels import label_set
from goodflight.studies.bench.shapes import TemplateSet
from goodflight.studies.bench.stamp import LENGTH, in_groups, stamp_of
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.evidence.seen import see
from goodflight.studies.lists.cards import PAPERS, papers_of
from goodflight.studies.lists.ground import tests_of
from goodflight.studies.questions.evidence import FLIGHTS, evidence_seen
from goodflight.studies.questions.layout import layout_of
from goodflight.studies.refusal import StudyRefused


@dataclass(frozen=True)
class Stamped:
    """One printed thing as the project has it now."""

    what: Annotated[str, "drawing, what `print --what` makes, or the answer as `send` makes it"]
    plan: Annotated[str, "whose rocket"]
    stamp: Annotated[str, "mark of the figures on it"]


@dataclass(frozen=True)
class StampAsked:
    """Whether a sheet with a stamp still shows what the project has."""

    rocket: Annotated[str, "its name"]
    asked: Annotated[str, "the stamp asked about; empty = only the list"]
    holds: Annotated[bool, "whether a sheet made now carries it; false where none was asked"]
    sheets: Annotated[tuple[Stamped, ...], "sheets made now that carry it"]
    now: Annotated[tuple[Stamped, ...], "every sheet made now, of the plans looked at"]


def of_weighing(
    project: Project, plan: str | None = None, case: Case | None = None
) -> tuple[Stamped, ...]:
    """The sheets that show what was weighed, quickly: drawing and labels.

    The station strips among the templates, and the book, mark CG and CP too: they follow the
    drawing's.
    """
    name = project.plan(plan).name
    case = case_of(project, plan) if case is None else case
    return (
        Stamped("drawing", name, stamp_of(layout_of(case))),
        Stamped("labels", name, stamp_of(label_set(project, plan, case))),
    )


def of_answer(project: Project, plan: str) -> Stamped:
    """The stamp of an answer: of every entry but those of other plans; comments do not count."""
    entries: dict[str, Any] = {
        name: tomllib.loads(text) if name.endswith(".toml") else text
        for name, text in project.texts.items()
    }
    plans = entries["plans.toml"]
    own = [each for each in plans["plan"] if each["name"] == plan]
    return Stamped("answer", plan, stamp_of(entries | {"plans.toml": plans | {"plan": own}}))


def every_stamp(project: Project, plan: str | None = None) -> tuple[Stamped, ...]:
    """The stamps of everything that can be printed of a plan's rocket."""
    name = project.plan(plan).name
    found = [*of_weighing(project, plan), of_answer(project, name)]
    book = answer(project, "book", plan=plan)
    if isinstance(book, Book):
        shown: tuple[tuple[str, Any], ...] = (
            ("templates", book.templates),
            ("guides", book.guides),
            ("cutlist", book.cuts),
            ("packing", TemplateSet(book.rocket, "packing", book.packing)),
            ("book", book),
        )
    found += [Stamped(what, name, stamp_of(each)) for what, each in shown if each is not None]
    seen = see(project, case_of(project, plan), FLIGHTS, 1)
    papers = papers_of(seen)
    found.append(Stamped("evidence", name, stamp_of(evidence_seen(seen))))
    found.append(Stamped("tests", name, stamp_of(tests_of(seen))))
    found += [Stamped(what, name, stamp_of(papers.only(what))) for what in PAPERS]
    return tuple(found)


def stamp(project: Project, plan: str | None = None, stamp: str = "") -> StampAsked:
    """Whether a printed sheet still holds, from the stamp in its foot.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - whose sheets; None looks at every plan until one fits. [-]
        stamp : str - as printed; spaces and small letters do not matter. Empty: the list. [-]
    Returns
        asked : StampAsked - holds, or not, with what is printed now. [-]
    Raises
        StudyRefused - that is no stamp.
    Validity
        A stamp that no sheet carries now: printed from other figures, of another project, or
        misread.
    Source
        `stamp_of`.
    Example
        >>> goodflight.stamp(goodflight.load("fieldfare"), "morning", "0000 0000").holds
        False
    """
    if not stamp.strip():
        return StampAsked(project.name, "", False, (), every_stamp(project, plan))
    bare = re.sub(r"[^0-9A-Z]", "", stamp.upper())
    if not re.fullmatch(f"[0-9A-F]{{{LENGTH}}}", bare):
        raise StudyRefused(
            f"the stamp {stamp.strip()[:30]!r}",
            "eight letters and figures, like 7F3A C21B",
            "read it from the foot of the sheet",
            "stamp",
        )
    asked = in_groups(bare)
    plans = [each.name for each in project.plans] if plan is None else [plan]
    now: list[Stamped] = []
    for name in plans:
        now += every_stamp(project, name)
        if any(each.stamp == asked for each in now):
            break
    sheets = tuple(each for each in now if each.stamp == asked)
    return StampAsked(project.name, asked, bool(sheets), sheets, tuple(now))
