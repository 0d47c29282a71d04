"""What can be measured at the bench and entered as a reading: every name, in words, and how."""

from dataclasses import dataclass
from typing import Final

from goodflight.project import Project
from goodflight.project.measured_keys import Place, place_of
from goodflight.studies.asking import ROCKET
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.case.unwritten import label_of, readable
from goodflight.studies.sampling import airframe
from goodflight.studies.sampling.declared import DECLARED
from goodflight.studies.sampling.quantity import Family, Measured

_BY_RULE: Final = "measure it with a calliper or rule"
_FORCES: Final = ("force", "pressure")
PULLS, FINS, SIZES = "pulls and strengths", "how the fins stand", "sizes and the rest"


@dataclass(frozen=True)
class Measurable:
    """A figure that may be measured: its name in the file, words, what is read, how, its group."""

    of: str
    label: str
    dimension: str
    how: str
    group: str


def entered_as(project: Project, case: Case, key: str) -> str:
    """Name to enter a reading under, of a figure as "measure next" names it; empty = none is taken.

    Parameters
        project : Project - as loaded from its folder. [-]
        case : Case - the planned flight. [SI]
        key : str - of a declared quantity, a member of a family or its group. [-]
    Returns
        of : str - as `[[reading]]` names it. [-]
    Raises
        nothing
    Validity
        The first of several that stand for one figure: the first fin.
    Source
        The declared quantities.
    """
    for factor, _ in readable(case).values():
        if key in (factor.key, factor.group):
            return factor.key
    declared = DECLARED.get(key)
    path = airframe.figure.member(key)
    if declared is not None and not isinstance(declared, Family):
        path = declared.home(case)
    place = _in_file(project, path)
    return "" if place is None else place.of


def _in_file(project: Project, path: str) -> Place | None:
    """The figure of rocket.toml that a path names; None where it names none."""
    file, _, of = path.partition(":")
    place = place_of(project.head, project.parts, of) if file == ROCKET else None
    return None if isinstance(place, str) else place


def measurable(project: Project, plan: str | None = None) -> tuple[Measurable, ...]:
    """Everything that may be measured of a planned flight's rocket, pulls and strengths first.

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - which plan; None = the first. [-]
    Returns
        found : tuple of Measurable - figures of rocket.toml and those that no file has. [-]
    Raises
        NoSuchPlan; StudyRefused - as `case_of`.
    Validity
        Masses and balance points are weighed (`weigh`).
    Source
        The declared quantities.
    """
    case = case_of(project, plan)
    found: dict[str, Measurable] = {}
    for factor, shows in readable(case).values():
        way, group = factor.measured_by, FINS if isinstance(factor.of, Family) else PULLS
        assert way is not None
        group = group if shows.dimension != "length" else SIZES
        each = Measurable(factor.key, label_of(factor), shows.dimension, way.how, group)
        found[each.of] = each
    ways: dict[str, tuple[str, Measured | None]] = {}
    for declared in DECLARED.values():
        if not isinstance(declared, Family) and declared.exists(case):
            ways[declared.home(case)] = declared.label, declared.measured_by
    paths = {figure.path: figure.label for figure in project.uncertain(plan)}
    for path, label in {**paths, **{path: words for path, (words, _) in ways.items()}}.items():
        place = _in_file(project, path)
        if place is None or (place.table, place.key) == airframe.ROUGHNESS:
            continue
        _, how = ways.get(path, ("", None))
        group = PULLS if place.dimension in _FORCES else SIZES
        told = _BY_RULE if how is None else how.how
        found[place.of] = Measurable(place.of, label, place.dimension, told, group)
    groups = (PULLS, FINS, SIZES)
    return tuple(sorted(found.values(), key=lambda each: groups.index(each.group)))
