"""What is missing from the demo's own tables never makes its answer better.

Every key of `[separation]`, `[charge]`, `[retention]` and `[surface]`, and each of these tables, is
deleted in turn and the plan judged on the same flights. The chance that is still known may fall
only where more failures are said to be not known, and then the plan is neither ok nor marginal.
"""

import tomllib
from pathlib import Path

import numpy as np
import pytest

from goodflight import load
from goodflight.project.demo import demo_files, write_demo
from goodflight.studies.case.project_case import case_of
from goodflight.studies.judging.counting import counted
from goodflight.studies.judging.evaluate import any_failing, evaluate
from goodflight.studies.judging.plan import Plan, judged_alone
from goodflight.studies.sampling.flights import fly_trials

FLIGHTS, FILE = 200, "rocket.toml"
TABLES = ("separation", "charge", "retention", "surface")
Judged = tuple[np.ndarray, Plan, dict[str, str]]


def judge(folder: Path) -> Judged:
    rows = evaluate(fly_trials(case_of(load(folder), "morning"), FLIGHTS, 1))
    states = {
        row.limit.key: str(counted(row, FLIGHTS)["state"]) for row in rows if not row.not_here
    }
    return any_failing(rows), judged_alone(rows, FLIGHTS), states


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Judged]:
    folder = tmp_path_factory.mktemp("missing") / "demo"
    write_demo(folder)
    return folder, judge(folder)


def deletions() -> list[str]:
    tables = tomllib.loads(demo_files()[FILE])
    return [*TABLES, *(f"{table}.{key}" for table in TABLES for key in tables[table])]


def without(text: str, what: str) -> str:
    table, _, key = what.partition(".")
    kept, inside = [], False
    for line in text.split("\n"):
        if line.startswith("["):
            inside = line.startswith(f"[{table}]")
        gone = inside and (not key or line.startswith(f"{key} "))
        if not gone:
            kept.append(line)
    return "\n".join(kept)


@pytest.mark.parametrize("what", deletions())
def test_nothing_missing_helps(demo: tuple[Path, Judged], what: str) -> None:
    """Net fall against three standard errors of the flights that change, sqrt(n)."""
    folder, (before, plan, states) = demo
    text = (folder / FILE).read_text(encoding="utf-8")
    less = without(text, what)
    assert less != text
    (folder / FILE).write_text(less, encoding="utf-8")
    try:
        after, bare, now = judge(folder)
    finally:
        (folder / FILE).write_text(text, encoding="utf-8")
    better, worse = int((before & ~after).sum()), int((after & ~before).sum())
    if better - worse > 3.0 * (better + worse) ** 0.5:
        assert set(bare.unknown) > set(plan.unknown)
    if set(bare.unknown) - set(plan.unknown):
        assert bare.state in ("unknown", "fails")
    for key, state in now.items():
        assert not (states.get(key) in ("unknown", "fails") and state == "ok"), key
