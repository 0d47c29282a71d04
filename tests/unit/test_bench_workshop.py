"""What the workshop needs: the project's own figures, blanks where no file says one."""

from dataclasses import replace
from math import exp, pi

import pytest
from shapely.geometry import Polygon

from goodflight.outputs.bench.list_words import amount, total
from goodflight.physics.vehicle import parts as p
from goodflight.project import read_project
from goodflight.project.demo import demo_files
from goodflight.project.records import Project
from goodflight.project.workshop_files import PaintTable
from goodflight.quantity import Quantity
from goodflight.studies.bench.answers import answer
from goodflight.studies.bench.cutlist import CutList
from goodflight.studies.bench.order import Order
from goodflight.studies.bench.shapes import Words, room_of
from goodflight.studies.bench.steps import assembly_order
from goodflight.studies.bench.wiring import wiring
from goodflight.studies.bench.workshop import _coat, _fillets, _shaping, workshop
from goodflight.studies.lists.step import BLANK


@pytest.fixture(scope="module")
def topics(demo: Project) -> tuple[Order, dict[str, str]]:
    order = assembly_order(demo)
    return order, {t.title: " ".join(t.lines) for t in workshop(demo, order)}


def without(*tables) -> Project:
    """The demo without some tables of its build file."""
    files = dict(demo_files())
    blocks = files["build.toml"].split("\n\n")
    files["build.toml"] = "\n\n".join(b for b in blocks if not b.startswith(tables))
    return read_project(files)


def test_every_tool_of_every_step_is_listed_once(topics: tuple[Order, dict[str, str]]) -> None:
    order, found = topics
    listed = found["Tools"].removesuffix(".").partition(": ")[2].split("; ")
    assert set(listed) == {tool for placed in order.steps for tool in placed.step.tools}
    assert len(listed) == len(set(listed))


def test_figures_are_those_of_the_project(topics: tuple[Order, dict[str, str]]) -> None:
    _, found = topics
    assert (
        "slow epoxy: rings on the motor tube; coupler in the payload tube"
        in found["Glue and fillets"]
    )
    assert "next coat after 60 min, not later than 2 d" in found["Masking and paint"]
    assert "The file says 32 N" in found["Nose, pins and pull test"]
    assert "logger, side camera" in found["Wiring and arming"]


def test_what_no_file_says_is_a_blank(demo: Project, topics: tuple[Order, dict[str, str]]) -> None:
    bare = without("[[paint]]", "[[joint]]")
    found = {t.title: " ".join(t.lines) for t in workshop(bare, topics[0])}
    assert f"Next coat after {BLANK}" in found["Masking and paint"]
    assert f"Glue: {BLANK}" in found["Glue and fillets"]
    assert f"write it here {BLANK}" in found["Glue and fillets"]


def test_glue_of_the_fillets_is_a_square_less_a_quarter_circle() -> None:
    """Closed form: 2 sides x 3 fins x (1 - pi/4) r2 x root."""
    fins = p.Fins(
        "f",
        1.0,
        count=3,
        outline_m=((0, 0), (0.1, 0.1), (0.15, 0)),
        fillet_radius_m=0.010,
        fillet_density_kg_m3=1150.0,
    )
    grams = 1e3 * 1150.0 * 6 * (1 - pi / 4) * 0.010**2 * 0.15
    (line,) = _fillets(p.Rocket("r", (fins,)))
    assert "radius 10 mm" in line
    assert f"{grams:.1f} g" in line


def test_square_edges_are_not_shaped() -> None:
    fins = p.Fins("f", 1.0, count=3, thickness_m=0.004, edges="rounded")
    assert "Draw a line" in _shaping(fins)
    assert "Draw a line" not in _shaping(replace(fins, edges="blunt"))


def test_recoat_times_are_those_of_the_place_and_never_laxer_than_the_can(
    topics: tuple[Order, dict[str, str]],
) -> None:
    """By hand: exp(58600 / 8.314 x (1/293.15 - 1/298.15)) = 1.497, so 60 min are 90 min at 20 degC.

    The latest time of the can stays; warmer than the can the earliest stays and the latest shrinks.
    """
    _, found = topics
    assert (
        "In the kitchen at 20 °C: next coat after 90 min, not later than"
        in (found["Masking and paint"])
    )
    coat = PaintTable.model_construct(
        name="c", workplace="loft", recoat_min=hours(1.0), recoat_max=hours(10.0)
    )
    slower = exp(58.6e3 / 8.314462618 * (1 / 303.15 - 1 / 298.15))  # under 1: warmer
    told = " ".join(_coat(coat, {"loft": replace(hours(0.0), value=303.15)}))
    assert "next coat after 60 min, not later than" in told
    assert f"not later than {10 * slower:.1f} h" in told
    cold = " ".join(_coat(coat, {"loft": replace(hours(0.0), value=276.0)}))
    assert "do not paint" in cold


def hours(value: float) -> Quantity:
    return Quantity(3600.0 * value, None, "label", "", "")


def test_glue_paint_and_prices_on_the_list() -> None:
    """By hand: 104 g of fillets by the file and a fifth more; 0.99 m of tube at 10 a metre."""
    demo = read_project(dict(demo_files()))
    files = dict(demo_files())
    files["build.toml"] += (
        '\n[bench]\nmoney = "EUR"\n[[bench.price]]\nof = "kraft tube glassed"\neach = 10.0\n'
    )
    cuts = answer(read_project(files), "cutlist")
    assert isinstance(cuts, CutList)
    glue = next(buy for buy in cuts.buys if buy.what == "slow epoxy")
    assert glue.amount == pytest.approx(1.2 * 0.104)
    tube = next(buy for buy in cuts.buys if buy.what.startswith("kraft tube glassed"))
    assert tube.amount == pytest.approx(0.220 + 0.760 + 2 * 0.0002 + 0.010)
    assert cuts.cost == pytest.approx((10.0 * tube.amount, 1))
    assert total(cuts).startswith("1 lines with your prices: 9.90 EUR; lines without one: ")
    plain = answer(demo, "cutlist")
    assert isinstance(plain, CutList) and total(plain).startswith("No price is entered yet")
    paint = next(buy for buy in cuts.buys if buy.what.startswith("paint"))
    assert amount(paint.amount, paint.unit) == f"{BLANK} cans"
    assert paint.cost is None


def test_the_wiring_shows_what_the_files_name_and_blanks_for_the_rest() -> None:
    bare = p.Rocket("r", ())
    assert wiring(bare, (), by_altimeter=False, main=False) is None

    def words(*args) -> list[str]:
        return [s.text for s in wiring(*args).shapes if isinstance(s, Words)]

    quiet = words(bare, ("logger",), False, False)
    assert "logger" in quiet and not any("charge" in each for each in quiet)
    only = words(bare, ("timer",), True, True)
    assert only.count("charge at apogee") == only.count("charge of the main") == 1
    assert not any("fires" in each for each in only)
    several = " ".join(words(bare, ("logger", "camera"), True, False))
    assert "fires the" in several and several.count("charge at apogee") == 1
    cup = p.AddedMass("rear cup", 0.4, length_m=0.03, radius_m=0.01, role="charge_cup")
    assert "rear cup" in words(p.Rocket("r", (cup,)), ("timer",), True, False)


@pytest.mark.parametrize("count", [1, 2, 3])
def test_no_word_of_the_wiring_lies_over_another(count: int) -> None:
    made = wiring(p.Rocket("r", ()), [f"device {i}" for i in range(count)], True, True)
    rooms = [Polygon(room_of(s)) for s in made.shapes if isinstance(s, Words)]
    assert not [i for i, a in enumerate(rooms) for b in rooms[:i] if a.intersects(b)]
    b = made.bounds
    for room in rooms:
        left, low, right, high = room.bounds
        assert b.left_m <= left and right <= b.right_m and b.low_m <= low and high <= b.high_m
