"""A plan with a main of which nothing more is said: what its rows ask for makes them known.

And the drawing of a rocket that parts twice.
"""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from as_files import files_of
from flown import case_flown
from well_built import BY_KEY

from goodflight.outputs.drawing.svg import drawing_svg
from goodflight.project import load, read_project
from goodflight.project.answering import answer
from goodflight.studies.case.project_case import case_of
from goodflight.studies.questions.layout import layout_of

pytestmark = pytest.mark.slow
TABLE = r"\[main_(separation|charge)\]\n(?:.+\n)+"
TYPED = {
    "main_separation.at": "360 mm",
    "main_separation.pull": "400 N",
    "main_separation.bulkhead": "3500 N",
    "main_separation.fore_anchor": "2500 N",
    "main_separation.aft_anchor": "2500 N",
    "main_charge.powder": "2.2 g",
    "main_charge.blanket": "0.15 m2",
}


def test_what_is_asked_for_is_all_that_is_needed(tmp_path: Path) -> None:
    files = files_of(BY_KEY["card102d"])
    files["rocket.toml"] = re.sub(TABLE, "", files["rocket.toml"])
    assert "[main_" not in files["rocket.toml"]
    for name, text in files.items():
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, "utf-8")
    asked = case_flown(case_of(load(tmp_path)), 50)
    unknown = {key for key in asked.missing() if key.startswith("main_")}
    assert unknown == {"main_scorched", "main_coast", "main_early", "main_shut", "main_strong",
                       "main_cord", "main_anchor"}  # fmt: skip
    places = {entry.place for key in unknown for entry in asked.rows[key].asks}
    assert set(TYPED) <= places
    project = answer(load(tmp_path), {f"rocket.toml:{k}": text for k, text in TYPED.items()})
    assert not case_flown(case_of(project), 50).missing()


def test_both_separations_are_drawn_and_one_where_one_canopy_opens() -> None:
    built = (BY_KEY[key] for key in ("card102d", "card79"))
    two, one = (layout_of(case_of(read_project(files_of(each)))) for each in built)
    assert (two.main_separation_m, two.separation_m) == pytest.approx((0.36, 0.94))
    assert one.main_separation_m is None
    bare = replace(two, main_separation_m=None)
    lines = [drawing_svg(each).count("ink heavy") for each in (two, bare)]
    assert lines[0] - lines[1] == 2  # above and below the body
