"""A tube's two diameters are the sides of one wall: they do not scatter each by itself."""

import math
from collections.abc import Callable

import pytest

from goodflight.project import read_project
from goodflight.project.demo import demo_files
from goodflight.studies.case.planned import Sensitivity
from goodflight.studies.case.project_case import case_of

TUBE = 'name = "main tube"\nlength = "760 mm"\nouter_diameter = "79.0 mm"\n'
MASS = 'material = "kraft_tube_glassed"\nmass = "236 g label"\nbalance = "840 mm"\n'
DENSITY = 860.0  # kg/m3 of glassed kraft in the library
PATH = "rocket.toml:part[main tube]."


def sensitivities(
    known: str, change: Callable[[str], str] = lambda text: text
) -> dict[str, Sensitivity]:
    """What the figures of the demo's main tube do, lengths known as said, never weighed."""
    texts = {file: text for file, text in demo_files().items() if file != "weighings.toml"}
    rocket = texts["rocket.toml"].replace('lengths = "measured"', f'lengths = "{known}"')
    assert TUBE in rocket and MASS in rocket
    case = case_of(read_project({**texts, "rocket.toml": change(rocket)}), "morning")
    return {
        each.path.removeprefix(PATH): each
        for each in case.uncertainty.sensitivities
        if each.path.startswith(PATH)
    }


def unweighed(text: str) -> str:
    """The tube's mass from its shape."""
    return text.replace(MASS, 'material = "kraft_tube_glassed"\n')


@pytest.mark.parametrize(
    ("known", "wall_mm"), [("guess", 0.15), ("label", 0.075), ("measured", 0.075)]
)
def test_the_inner_diameter_scatters_by_the_wall(known: str, wall_mm: float) -> None:
    """A tenth of 1.5 mm guessed, half that by label or, where better, a calliper's 0.1 mm."""
    found = sensitivities(known, unweighed)["inner_diameter"]
    assert found.sigma == pytest.approx(2e-3 * wall_mm)
    bore = 0.076 + 2e-3 * wall_mm
    less = DENSITY * 0.760 * math.pi / 4.0 * (bore**2 - 0.076**2)
    assert found.effects["mass_kg"] == pytest.approx(-less, rel=1e-6)  # 23 g of 236 guessed


def test_the_outer_diameter_takes_the_wall_along() -> None:
    """3 % of 79 mm guessed: 2.37 mm more, the wall as it was: pi l wall x 2.37 mm."""
    found = sensitivities("guess", unweighed)["outer_diameter"]
    assert found.sigma == pytest.approx(0.03 * 0.079)
    more = DENSITY * math.pi * 0.760 * 0.0015 * 0.03 * 0.079
    assert found.effects["mass_kg"] == pytest.approx(more, rel=1e-6)  # 7 g; each alone: 195 g


def test_a_spread_that_is_stated_stands() -> None:
    said = sensitivities(
        "guess",
        lambda text: unweighed(text).replace(
            TUBE + 'inner_diameter = "76.0 mm"', TUBE + 'inner_diameter = "76.0 mm ± 0.4 mm"'
        ),
    )
    assert said["inner_diameter"].sigma == pytest.approx(0.0004)


def test_a_weighed_tube_needs_no_wall() -> None:
    """With its mass given, neither diameter moves it."""
    for each in sensitivities("guess").values():
        assert "mass_kg" not in each.effects, each.path
