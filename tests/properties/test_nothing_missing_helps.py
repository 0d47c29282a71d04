"""What is missing from the demo's own files never makes its answer better.

Every table and every key of the files that the plan `morning` stands on is deleted in turn, and the
plan judged on the same flights. Where the project still loads, no row's chance falls beyond the
noise of the flights that change, no way to fail stops being one, no spread of another figure gets
narrower, a figure that is gone leaves its row unknown or a default with a spread, and the plan's
state is never better. What cannot be left out is refused with its faults, never a traceback.
"""

import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from functools import cache
from typing import Any, Final

import numpy as np
import pytest
import tomlkit

from goodflight.project import ProjectErrors
from goodflight.project.demo import demo_files
from goodflight.project.faults import NoSuchPlan
from goodflight.project.reading import read_project
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.judging.counting import counted
from goodflight.studies.judging.evaluate import any_failing, evaluate
from goodflight.studies.judging.plan import judged_alone
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.sampling.declared import factors_of
from goodflight.studies.sampling.flights import fly_trials
from goodflight.studies.sampling.quantity import Factor
from knockout import Place, falls, steps, without, words

pytestmark = pytest.mark.long

FLIGHTS: Final = 100
PLAN: Final = "morning"
STATES: Final = ("ok", "marginal", "unknown", "fails")  # from best to worst
FILES: Final = ("rocket.toml", "plans.toml", "motors/H-b.toml", "sites/larkrise.toml",
                "weighings.toml", "build.toml")  # fmt: skip
REMARKS: Final = ("name", "note", "about", "source", "invented", "date", "time", "kind")

# A figure whose column goes though no row is unknown: what stands in its place.
STANDS_FOR: Final = {
    "part[rail guides].frontal_area": "the square of the guides' height, which has a spread",
    "charge.pack_pull": "the friction of the pack by its weight, with a spread of half of it",
}
# A figure left out that is known better from its shape than as it is guessed.
SHAPE: Final = {
    "mass": "a solid of a material of the library: a density from a label beats a tenth by guess",
    "balance": "the middle of an even shape; any other has the spread of a guess, see below",
}


@dataclass(frozen=True)
class Judged:
    """One plan judged: rows, the flights that fail, what is known of its figures."""

    state: str
    unknown: frozenset[str]
    rows: Mapping[str, np.ndarray | None]  # failing flights; None = not known
    states: Mapping[str, str]
    bound: frozenset[str]  # failures not known, which the plan's state counts
    gone: frozenset[str]  # ways to fail that this rocket does not have
    total: np.ndarray
    factors: Mapping[str, Factor]


def judge(texts: Mapping[str, str]) -> Judged:
    case: Case = case_of(read_project(dict(texts)), PLAN)
    rows = evaluate(fly_trials(case, FLIGHTS, 1))
    plan, here = judged_alone(rows, FLIGHTS), [row for row in rows if not row.not_here]
    return Judged(
        plan.state,
        frozenset(row.limit.key for row in here if not row.known),
        {row.limit.key: row.failing if row.known else None for row in here},
        {row.limit.key: str(counted(row, FLIGHTS)["state"]) for row in here},
        frozenset(plan.unknown),
        frozenset(row.limit.key for row in rows if row.not_here),
        any_failing(rows),
        {factor.key: factor for factor in factors_of(case)},
    )


@cache
def whole() -> Judged:
    return judge(demo_files())


def tried_in(data: Any) -> list[Place]:
    """Every key and every table of a file that is more than a remark."""
    return [place for place in steps(data) if place[-1] not in REMARKS]


def tables() -> list[tuple[str, str]]:
    """Each top-level key of each file; each row of a list for itself, of the plans this one."""
    found = []
    for file in FILES:
        data = tomllib.loads(demo_files()[file])
        heads = {
            path[:2] if isinstance(data[path[0]], list) else path[:1] for path in tried_in(data)
        }
        for head in sorted(heads, key=str):
            if file != "plans.toml" or words(data, head) in ("plan", f"plan[{PLAN}]"):
                found.append((file, words(data, head)))
    return found


def narrower(was: Factor, now: Factor) -> bool:
    """Whether a figure scatters less, itself and as a share of its value; weighed ones by 5 %."""
    share = [f.sigma / abs(f.value) if f.value else f.sigma for f in (was, now)]
    return now.sigma < 0.95 * was.sigma and share[1] < 0.95 * share[0]


def part_of(what: str) -> str:
    return what.partition("[")[2].partition("]")[0]


def helped(what: str, is_row: bool, was: Judged, now: Judged) -> Iterator[str]:
    """What got better though something is missing."""
    more = now.unknown - was.unknown
    if STATES.index(now.state) < STATES.index(was.state):
        yield f"the plan was {was.state} and is {now.state}"
    if now.bound - was.bound and now.state not in ("unknown", "fails"):
        yield f"{more} is not known and the plan is {now.state}"
    if falls(was.total, now.total) and not more:
        yield "fewer flights fail"
    for key, before in was.rows.items():
        after = now.rows.get(key)
        if key in now.gone:
            yield f"{key} is no way to fail any more"
        if was.states[key] in ("unknown", "fails") and now.states.get(key) == "ok":
            yield f"{key} was {was.states[key]} and is ok"
        if before is not None and after is not None and falls(before, after):
            yield f"{key} fails less often"
    for key, factor in was.factors.items():
        left = now.factors.get(key)
        if left is None and not (is_row or more or now.gone - was.gone or what in STANDS_FOR):
            yield f"{factor.label} has no spread any more, and no row is unknown for it"
        if left is not None and narrower(factor, left):
            if what.rpartition(".")[2] in SHAPE and factor.key.endswith(part_of(what)):
                continue
            yield f"{factor.label} scatters less: {factor.sigma:.3g}, now {left.sigma:.3g}"


@pytest.mark.slow
@pytest.mark.parametrize(("file", "head"), tables())
def test_nothing_missing_helps(file: str, head: str) -> None:
    data, wrong, tried = tomllib.loads(demo_files()[file]), [], 0
    for path in tried_in(data):
        what = words(data, path)
        if what != head and (isinstance(data.get(head), list) or not what.startswith(f"{head}.")):
            continue
        try:
            now = judge({**demo_files(), file: without(data, path)})
        except (ProjectErrors, NoSuchPlan, StudyRefused):
            continue  # it cannot be left out, and is told so
        tried += 1
        is_row = isinstance(path[-1], int)
        wrong += [f"{what}: {each}" for each in helped(what, is_row, whole(), now)]
    assert not wrong, "\n".join(wrong)


def test_a_balance_left_out_is_known_no_better_than_a_guess() -> None:
    data = tomllib.loads(demo_files()["rocket.toml"])
    cord = next(i for i, part in enumerate(data["part"]) if part["kind"] == "cord")
    left = without(data, ("part", cord, "balance"))
    now = judge({**demo_files(), "rocket.toml": left})
    assert not narrower(whole().factors["place:cord"], now.factors["place:cord"])


def _no_stretch(rocket: dict[str, Any]) -> None:
    del next(part for part in rocket["part"] if part["kind"] == "cord")["elongation"]


def _pins_alone(rocket: dict[str, Any]) -> None:
    del rocket["separation"]["pull"]
    rocket["separation"]["pins"] = 2  # hold more than the fit, not instead of it


@pytest.mark.parametrize(
    ("change", "waiting"),
    [
        (lambda rocket: rocket.pop("separates_at"), {"separation_handled", "drag_separation"}),
        (_no_stretch, {"snatch_cord", "snatch_anchor", "zipper", "nose_jerked"}),
        (_pins_alone, {"separation_shut", "separation_handled", "drag_separation", "trapped_air"}),
    ],
    ids=("where it separates", "stretch of the cord", "fit of a pinned separation"),
)
def test_a_row_waits_for_what_it_stands_on(
    change: Callable[[dict[str, Any]], object], waiting: set[str]
) -> None:
    rocket = tomllib.loads(demo_files()["rocket.toml"])
    change(rocket)
    now = judge({**demo_files(), "rocket.toml": tomlkit.dumps(rocket)})
    assert waiting <= now.unknown


def test_the_check_sees_what_helps() -> None:
    """Made to fail: a row that is silent, a spread that is lost, a state that improves."""
    was = whole()
    key = next(k for k, failing in was.rows.items() if failing is not None and failing.sum() > 11)
    rows = {**was.rows, key: np.zeros(FLIGHTS, bool)}
    fewer = {k: f for k, f in was.factors.items() if k != "given:pull_n"}
    now = replace(was, state="ok", rows=rows, factors=fewer)
    gone = replace(was, gone=was.gone | {"electronics_vents"})
    told = " ".join(
        each for it in (now, gone) for each in helped("separation.pull", False, was, it)
    )
    for each in (
        f"{key} fails less often",
        "pull to separate has no spread any more",
        f"was {was.state} and is ok",
        "electronics_vents is no way to fail",
    ):
        assert each in told
