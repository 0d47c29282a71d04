"""What a builder can change at the second canopy mends its row, and is the same once it is kept."""

from pathlib import Path

import pytest
from as_files import files_of
from built import Built, Canopy, Cord
from flown import Flown, case_flown
from mistakes import MISTAKES
from well_built import BY_KEY

from goodflight.project import load
from goodflight.project.part_forms import keep
from goodflight.studies.case.project_case import case_of
from goodflight.studies.levers.whatif import tried

pytestmark = pytest.mark.slow
FLIGHTS = 200
WRONG: dict[str, tuple[Built, str]] = {
    lever: (next(each.after for each in MISTAKES if each.name == name), row)
    for lever, name, row in (
        ("main_pins", "nose held by one pin", "main_early"),
        ("main_powder", "a third of the main's powder", "main_shut"),
        ("main_height", "main set 30 m up", "main_low"),
    )
} | {
    "main_size": (BY_KEY["card102d"].but(main=Canopy(1.0, 600.0)), "landing_speed"),
    "first_size": (BY_KEY["card102d"].but(canopy=Canopy(0.25, 450.0)), "drogue_speed"),
    "main_cord": (
        BY_KEY["card102d"].but(main_cord=Cord(4.0, 800.0, 11.0, 14.0, 0.8, 4000.0)),
        "main_cord",
    ),
    "main_anchors": (BY_KEY["card102d"].but(anchor_n=400.0), "main_anchor"),
    "main_bulkhead": (BY_KEY["card102d"].but(bulkhead_n=1100.0), "main_strong"),
}


def chances(found: Flown) -> dict[str, float]:
    return {key: found.per_100(key) for key, row in found.rows.items() if row.known}


@pytest.mark.parametrize("lever", WRONG)
def test_it_mends_its_row_and_is_the_same_once_kept(lever: str, tmp_path: Path) -> None:
    built, row = WRONG[lever]
    for name, text in files_of(built).items():
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, "utf-8")
    project = load(tmp_path)
    case = case_of(project)
    before = case_flown(case, FLIGHTS).per_100(row)
    changes = [each for each in tried(case, {}).changes if each.lever.key == lever]
    better = {each.key: case_flown(each.case, FLIGHTS) for each in changes}
    best = min(changes, key=lambda each: better[each.key].per_100(row))
    assert better[best.key].per_100(row) < 0.2 * before
    kept = case_flown(case_of(keep(project, best.setting.writes)), FLIGHTS)
    assert chances(kept) == chances(better[best.key])


@pytest.mark.parametrize("lever", WRONG)
def test_a_rocket_with_one_canopy_has_none_of_them(lever: str, tmp_path: Path) -> None:
    for name, text in files_of(BY_KEY["card79"]).items():
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, "utf-8")
    changes = tried(case_of(load(tmp_path)), {}).changes
    assert lever not in {each.lever.key for each in changes}


@pytest.mark.parametrize(
    ("rocket", "size"), [("card102d", "first_size"), ("card79", "canopy_size")]
)
def test_the_first_of_two_canopies_is_not_what_lands_it(
    rocket: str, size: str, tmp_path: Path
) -> None:
    for name, text in files_of(BY_KEY[rocket]).items():
        path = tmp_path / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, "utf-8")
    changes = tried(case_of(load(tmp_path)), {}).changes
    sizes = {each.lever.key for each in changes} & {"first_size", "canopy_size"}
    assert sizes == {size}
    helps = next(each.lever.helps for each in changes if each.lever.key == size)
    assert ("landing_speed" in helps) == (size == "canopy_size")
    titles = [str(each.setting.title) for each in changes if each.lever.key == size]
    assert all((" first canopy," in title) == (size == "first_size") for title in titles)
