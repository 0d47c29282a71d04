"""What can be cut from the plan of work: what it gains in days, and what it costs the ledger.

A step's `without` says what the files hold when it is left out; the same flights are flown with
that. Where it says nothing, the cost is not known and is said not to be.
"""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

from goodflight.project import Project, ProjectErrors, SaveRefused, read_project
from goodflight.project.editing import changed_texts
from goodflight.studies.calendar.chance import Policy, chance_by, finish_of, middle_finish
from goodflight.studies.calendar.job import Job
from goodflight.studies.calendar.problem import NEVER
from goodflight.studies.calendar.results import Cut, CutRow
from goodflight.studies.calendar.setting import Builds, Setting
from goodflight.studies.questions.beside import BesideRow, beside
from goodflight.studies.refusal import StudyRefused

FLIGHTS: Final = 500
SEEN: Final = 5  # flights of them that a row must move by to be told
ROWS: Final = 4
UNTOLD: Final = "not known: the step does not say what the files hold without it (`without`)"


def without_job(setting: Setting, key: str) -> Setting:
    """The setting with a job left out: what builds on it waits for what it waited for."""
    gone = [job for job in setting.jobs if key in (job.key, job.coat_of)]
    jobs = [job for job in setting.jobs if job not in gone]
    for left in reversed(gone):
        jobs = [_bridged(job, left) for job in jobs]
    return replace(setting, jobs=tuple(jobs))


def _bridged(job: Job, left: Job) -> Job:
    if left.key not in job.after:
        return job
    after = dict.fromkeys([*(k for k in job.after if k != left.key), *left.after])
    return replace(job, after=tuple(after), waits_cured=job.waits_cured or left.waits_cured)


def cuts(
    project: Project,
    plan: str | None,
    setting: Setting,
    policy: Policy,
    launch: int,
    builds: Builds,
) -> tuple[Cut, ...]:
    """Every step that may be cut, with its gain in days and its cost.

    launch : day of the calendar; negative where none is entered, and no chance is told.
    """
    found = []
    for job in setting.jobs:
        if not job.may_be_cut or job.coat_of:
            continue
        shorter = without_job(setting, job.key)
        ready = middle_finish(shorter, policy) if shorter.jobs else 0
        made = chance_by(finish_of(shorter, policy, builds), launch, "") if launch >= 0 else None
        cost = _Cost(project, plan, job.without)
        found.append(
            Cut(
                key=job.key,
                title=job.title,
                minutes=job.minutes,
                chance=None if made is None else made.chance,
                finish=setting.date_of(ready).isoformat() if ready < NEVER else "",
                fails_before=cost.before,
                fails_after=cost.after,
                rows=cost.rows,
                why=cost.why,
            )
        )
    return tuple(found)


class _Cost:
    """What the ledger says without a step. before, after : chance that anything fails."""

    def __init__(self, project: Project, plan: str | None, without: Sequence[str]) -> None:
        self.before: float | None = None
        self.after: float | None = None
        self.rows: tuple[CutRow, ...] = ()
        self.why = "" if without else UNTOLD
        if not without:
            return
        parted = (each.partition("=") for each in without)
        pairs = [(path.strip(), text.strip()) for path, _, text in parted]
        try:
            texts = changed_texts(project, pairs)
            other = read_project({**project.texts, **texts}, project.root)
            name = project.plan(plan).name
            both = beside(project, name, name, other, FLIGHTS)
        except (SaveRefused, ProjectErrors, StudyRefused, LookupError) as refusal:
            self.why = f"not known: {str(refusal).splitlines()[0]}"
            return
        self.before, self.after = both.first.chance, both.second.chance
        self.rows = tuple(
            CutRow(row.key, row.title, row.first, row.second) for row in both.rows if _tells(row)
        )[:ROWS]


def _tells(row: BesideRow) -> bool:
    if row.first is None or row.second is None:
        return row.first_state != row.second_state
    return abs(row.first - row.second) * FLIGHTS >= SEEN
