"""What the workshop needs: the project's own figures, blanks where no file says one."""

from dataclasses import replace
from math import pi

import pytest

from goodflight.physics.vehicle import parts as p
from goodflight.project import read_project
from goodflight.project.demo import demo_files
from goodflight.studies.bench.steps import assembly_order
from goodflight.studies.bench.workshop import BLANK, _fillets, _shaping, workshop


@pytest.fixture(scope="module")
def topics(demo):
    order = assembly_order(demo)
    return order, {t.title: " ".join(t.lines) for t in workshop(demo, order)}


def without(*tables):
    """The demo without some tables of its build file."""
    files = dict(demo_files())
    blocks = files["build.toml"].split("\n\n")
    files["build.toml"] = "\n\n".join(b for b in blocks if not b.startswith(tables))
    return read_project(files)


def test_every_tool_of_every_step_is_listed_once(topics):
    order, found = topics
    listed = found["Tools"].removesuffix(".").partition(": ")[2].split("; ")
    assert set(listed) == {tool for placed in order.steps for tool in placed.step.tools}
    assert len(listed) == len(set(listed))


def test_figures_are_those_of_the_project(topics):
    _, found = topics
    assert (
        "slow epoxy: rings on the motor tube; coupler in the payload tube"
        in found["Glue and fillets"]
    )
    assert "next coat after 60 min, not later than 2 d" in found["Masking and paint"]
    assert "The file says 32 N" in found["Nose, pins and pull test"]
    assert "logger, side camera" in found["Wiring and arming"]


def test_what_no_file_says_is_a_blank(demo, topics):
    bare = without("[[paint]]", "[[joint]]")
    found = {t.title: " ".join(t.lines) for t in workshop(bare, topics[0])}
    assert f"Next coat after {BLANK}" in found["Masking and paint"]
    assert f"Glue: {BLANK}" in found["Glue and fillets"]
    assert f"write it here {BLANK}" in found["Glue and fillets"]


def test_glue_of_the_fillets_is_a_square_less_a_quarter_circle():
    """Closed form: 2 sides x 3 fins x (1 - pi/4) r2 x root."""
    fins = p.Fins(
        "f", 1.0, count=3, outline_m=((0, 0), (0.1, 0.1), (0.15, 0)), fillet_radius_m=0.010,
        fillet_density_kg_m3=1150.0,
    )  # fmt: skip
    grams = 1e3 * 1150.0 * 6 * (1 - pi / 4) * 0.010**2 * 0.15
    (line,) = _fillets(p.Rocket("r", (fins,)))
    assert "radius 10 mm" in line
    assert f"{grams:.1f} g" in line


def test_square_edges_are_not_shaped():
    fins = p.Fins("f", 1.0, count=3, thickness_m=0.004, edges="rounded")
    assert "Draw a line" in _shaping(fins)
    assert "Draw a line" not in _shaping(replace(fins, edges="blunt"))
