"""What cannot be cut or drilled is named in the order and refused before it is printed."""

from typing import Any

import pytest
from shapely.geometry import Point, Polygon

from goodflight.outputs.bench.order_text import order_text
from goodflight.project import Project, ProjectErrors, read_project
from goodflight.project.demo import demo_files
from goodflight.studies.bench.answers import answer
from goodflight.studies.bench.buildable import unbuildable
from goodflight.studies.bench.choices import Choices, choices_of
from goodflight.studies.bench.outlines import ring_template
from goodflight.studies.bench.places import fin_can
from goodflight.studies.bench.shapes import DoesNotFitError, Line
from goodflight.studies.bench.steps import assembly_order


def project(bench: str = "", **changes: tuple[str, str]) -> Project:
    files = demo_files()
    for find, put in changes.values():
        assert find in files["rocket.toml"]
        files["rocket.toml"] = files["rocket.toml"].replace(find, put, 1)
    files["build.toml"] += f"\n[bench]\n{bench}\n"
    return read_project(files)


ACROSS: dict[str, Any] = {
    "ring": ('station = "1078 mm"', 'station = "1120 mm"'),
    "balance": ('balance = "1080 mm"', 'balance = "1122 mm"'),
}
SHALLOW: dict[str, Any] = {**ACROSS, "tab": ("118 mm x 19 mm", "118 mm x 8 mm")}


def pieces(made: Project, name: str) -> int:
    """Pieces that a ring falls into, from its drawing: the disc less its bore less each notch."""
    rocket, choices = made.rocket(), choices_of(made)
    can = fin_can(rocket)
    assert can is not None
    ring = next(each for each in can.rings if each.name == name)
    drawn = ring_template(ring, rocket, can, choices)
    disc = Point(0, 0).buffer(ring.outer_diameter_m / 2, 256)
    disc = disc.difference(Point(0, 0).buffer(ring.inner_diameter_m / 2, 256))
    notches = [x for x in drawn.shapes if isinstance(x, Line) and len(x.points_m) == 4]
    for notch in notches:
        disc = disc.difference(Polygon(notch.points_m).buffer(1e-6))
    parts = [part for part in getattr(disc, "geoms", [disc]) if part.area > 1e-6]
    return len(parts)


def test_a_ring_across_the_slots_that_falls_into_pieces_is_refused() -> None:
    """Tab 19 mm deep, body of 39.5 mm radius: the notch ends at 20.3 mm, the bore at 20.6."""
    made = project(**ACROSS)
    (reason,) = unbuildable(made.rocket(), choices_of(made))
    assert "middle ring at 1120 mm stands across the slots" in reason
    assert "3 loose pieces" in reason
    assert pieces(made, "middle ring") == 3  # as said
    assert "LOOK AGAIN middle ring at 1120 mm" in order_text(assembly_order(made))
    for what in ("templates", "cutlist", "book"):
        with pytest.raises(DoesNotFitError, match="3 loose pieces"):
            answer(made, what)


def test_a_ring_that_keeps_its_rim_is_notched_as_deep_as_the_tab() -> None:
    """Tab 8 mm deep: the notch ends at 39.5 - 8 - 0.2 = 31.3 mm, 10.7 mm outside the bore."""
    made = project(**SHALLOW)
    assert unbuildable(made.rocket(), choices_of(made)) == ()
    assert pieces(made, "middle ring") == 1
    can = fin_can(made.rocket())
    assert can is not None
    drawn = ring_template(can.rings[1], made.rocket(), can, choices_of(made))
    notch = next(x for x in drawn.shapes if isinstance(x, Line) and len(x.points_m) == 4)
    bottom = Polygon(notch.points_m).distance(Point(0, 0))
    assert bottom == pytest.approx(0.0313, abs=1e-6)


def test_all_that_cannot_be_made_is_said_at_once() -> None:
    hole = '[[bench.hole]]\nname = "camera port"\nstation = "455 mm"\ndiameter = "20 mm"\n'
    made = project(f'bolts = 4\nbolt_circle = "74 mm"\n{hole}', **ACROSS)
    reasons = "; ".join(unbuildable(made.rocket(), choices_of(made)))
    assert "stands across the slots" in reasons
    assert "bolt_circle 74.0 mm breaks out of rear ring: take 50.4 mm to 66.7 mm" in reasons
    assert "camera port (445 mm to 465 mm) is not within one tube" in reasons


def test_the_demo_can_be_made() -> None:
    made = read_project(demo_files())
    assert unbuildable(made.rocket(), Choices()) == ()


@pytest.mark.parametrize(
    ("change", "words"),
    [
        (('inner_diameter = "41.2 mm"', 'inner_diameter = "40.3 mm"'), "at least 41.0 mm"),
        (("118 mm x 19 mm", "118 mm x 25 mm"), "at most 19.0 mm of depth"),
        (('outer_diameter = "75.8 mm"', 'outer_diameter = "76.8 mm"'), "at most 76.0 mm"),
    ],
)
def test_bores_tabs_and_outsides_are_refused_when_the_project_is_read(
    change: tuple[str, str], words: str
) -> None:
    """A ring of 40.3 on a motor tube of 41.0, a tab of 25 in 19, a coupler of 76.8 in 76.0."""
    with pytest.raises(ProjectErrors, match=words):
        project(change=change)
