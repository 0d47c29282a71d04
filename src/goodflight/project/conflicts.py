"""A form saved after its file changed elsewhere: what becomes of the part or plan it speaks of."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from goodflight.project.differences import Merged, merge, plain
from goodflight.project.part_forms import written
from goodflight.project.plan_forms import plan_written
from goodflight.project.records import Project

STILL_ITSELF: Final = 0.5  # share of equal entries by which a renamed table is known again

Rows = Mapping[str, Mapping[str, str]]  # entries by name of the part or plan


@dataclass(frozen=True)
class Conflict:
    """What a form is about now; `name` is empty, and `merged` as typed, when that is gone."""

    name: str
    merged: Merged
    renamed: bool = False
    other_kind: str = ""  # under this name now stands a part of this kind
    remembered: bool = True  # whether the state the form was drawn from is still known


def part_conflict(
    drawn: Project | None, now: Project, name: str, kind: str, typed: Mapping[str, str]
) -> Conflict:
    """Return what a part's form is about, after the files changed elsewhere.

    Parameters
    ----------
    drawn : Project or None - what the form was drawn from; None when not remembered. [-]
    now : Project - the files as they are. [-]
    name : str - of the part, as drawn. [-]
    kind : str - of the part, as drawn. [-]
    typed : mapping - entries as they came from the form. [-]

    Returns
    -------
    conflict : Conflict - the entries merged, or that the part is gone. [-]
    """
    before = None if drawn is None else {p.name: written(drawn, p.name) for p in drawn.parts}
    after = {p.name: written(now, p.name) for p in now.parts}
    own_kind = {n: row for n, row in after.items() if row["kind"] == kind}
    found = _conflict(before, own_kind, name, typed)
    if name in after and name not in own_kind:
        return Conflict("", found.merged, False, after[name]["kind"], found.remembered)
    return found


def plan_conflict(
    drawn: Project | None, now: Project, name: str, typed: Mapping[str, str]
) -> Conflict:
    """Return what a plan's form is about, after the files changed elsewhere; as `part_conflict`."""
    before = None if drawn is None else _plans(drawn)
    return _conflict(before, _plans(now), name, typed)


def _plans(project: Project) -> Rows:
    return {t.name: plan_written(project, t.name) for t in project.plan_tables}


def _conflict(before: Rows | None, after: Rows, name: str, typed: Mapping[str, str]) -> Conflict:
    drawn = None if before is None else before.get(name)
    known = drawn is not None
    if name in after:
        return Conflict(name, merge(drawn, after[name], typed), remembered=known)
    new_name = _known_again(drawn, {n: r for n, r in after.items() if n not in (before or {})})
    if new_name and drawn is not None:
        return Conflict(new_name, merge(drawn, after[new_name], typed), renamed=True)
    return Conflict("", Merged(dict(typed), {}, (), ()), remembered=known)


def _known_again(drawn: Mapping[str, str] | None, new: Rows) -> str:
    """Return which of the new tables is the drawn one under another name; empty for none."""
    if drawn is None or not new:
        return ""
    rest = {key: plain(text) for key, text in drawn.items() if key != "name"}

    def equal(name: str) -> int:
        return sum(plain(new[name].get(key, "")) == text for key, text in rest.items())

    best = max(new, key=equal)
    return best if equal(best) >= STILL_ITSELF * len(rest) else ""
