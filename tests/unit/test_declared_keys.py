"""A key of a plan or of a field is written in one line; everything else follows from it.

A copy of the package gets one line for a made-up key of a plan, one for a field, and nothing else;
a process that imports this copy then looks for both keys where a builder meets them.
"""

import shutil
import subprocess
import sys
from pathlib import Path

HOME = Path(__file__).resolve().parents[2]
MODELS = "project/flight_files.py"
ADDED = {
    "class PlanSays(Says):": """
    mast_seen_on: Annotated[Date, Key("day the mast was seen", "mast seen on")] = ""
""",
    "class FieldSays(Says):": """
    mast: Annotated[Height | None, Key("height of the mast", example="21 m")] = None
""",
}
LOOK = """
from pathlib import Path
import sys
sys.path.insert(0, {docs!r})
import files_page
import numpy as np
import goodflight
from goodflight.project import ProjectErrors, load
from goodflight.project.demo import write_demo
from goodflight.project.part_forms import keep
from goodflight.project.plan_forms import change_plan, label, plan_entries, plan_written
from goodflight.project.schemas import schema_text
from goodflight.studies.case.project_case import case_of
from goodflight.studies.rows.model import Evaluation, LimitState, full
from one_flight import hand_case, one_flight
from sample_case import within

assert Path(goodflight.__file__).is_relative_to({copy!r})
assert "day the mast was seen; a day like" in schema_text("plans.json")
assert "height of the mast; length; units" in schema_text("site.json")
docs = files_page.page()
assert "| `mast_seen_on` | day the mast was seen | day: year-month-day |" in docs
assert "| `mast` | height of the mast | length: mm," in docs and '| - | `"21 m"` |' in docs

write_demo(Path("demo"))
project = load(Path("demo"))
plan = project.plans[0].name
assert label("mast_seen_on") == "mast seen on"
(entry,) = [e for e in plan_entries(project, plan) if e.key == "mast_seen_on"]
assert entry.wanted == "a day like 2026-10-09" and not entry.needed
project = change_plan(project, plan, {{"mast_seen_on": "2026-10-09"}})
project = keep(project, [("sites/larkrise.toml:mast", "21 m")])
assert plan_written(load(Path("demo")), plan)["mast_seen_on"] == "2026-10-09"
try:
    change_plan(project, plan, {{"mast_seen_on": "9 October"}})
except ProjectErrors as errors:
    assert errors.faults[0].key == "plan[" + plan + "].mast_seen_on"
else:
    raise AssertionError("a day in words was taken")

case = case_of(load(Path("demo")), plan)
assert case.plan_says.mast_seen_on == "2026-10-09"
assert case.field_says.mast.value == 21.0


def _mast(view):
    said = view.case.plan_says.mast_seen_on
    height = view.case.field_says.mast.value
    return Evaluation(full(view, height), full(view, 15.0), answered=said)


row = LimitState("mast", "Lands on the mast", "descent", "length", True, _mast, "", ())
told = within(hand_case(), "plan_says", mast_seen_on="2026-10-09")
told = within(told, "field_says", mast="21 m")
found = row.evaluate(one_flight(told))
assert found.answered == "2026-10-09" and np.all(found.demand > found.capacity)
"""


def test_a_key_declared_in_one_line_is_found_everywhere(tmp_path: Path) -> None:
    copy = tmp_path / "src" / "goodflight"
    shutil.copytree(
        HOME / "src" / "goodflight", copy, ignore=shutil.ignore_patterns("__pycache__", "static")
    )
    text = (copy / MODELS).read_text("utf-8")
    for head, line in ADDED.items():
        about = text.index('"""\n', text.index(head)) + 4
        text = text[:about] + line + text[about:]
    (copy / MODELS).write_text(text, "utf-8")
    look = LOOK.format(docs=str(HOME / "docs"), copy=str(tmp_path))
    done = subprocess.run(
        [sys.executable, "-c", look],
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
        env={"PYTHONPATH": f"{copy.parent}:{HOME / 'tests'}", "PATH": "", "HOME": str(tmp_path)},
    )
    assert done.returncode == 0, done.stderr
