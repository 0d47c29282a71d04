"""Edges of the fins: what is said, and what not saying it costs."""

from dataclasses import replace

import pytest
from pytest import approx

from goodflight.physics.aero import summary
from goodflight.physics.vehicle.parts import Fins
from goodflight.studies.sampling import airframe
from one_flight import hand_case, one_flight, with_part
from sample_case import sample_case

MEETS = (0.150 + 0.060 - 0.150 * 0.060 / 0.210) / 3.0  # half the mean aerodynamic chord
TENTH = -1.2815516  # standard deviations below which a tenth of a normal spread lies


def test_what_is_said_is_not_drawn() -> None:
    for edges, wide in (("blunt", 0.0), ("rounded", 0.0), ("bevelled", 0.01), ("faired", 0.0)):
        case = with_part(hand_case(), Fins, edges=edges, bevel_m=wide)
        assert not airframe.fin_edges.factors(case)
        assert one_flight(case).parameter("axial_factor").tolist() == [1.0]


def test_a_bevel_of_unknown_width_is_drawn_and_asked_for() -> None:
    case = with_part(hand_case(), Fins, edges="bevelled")
    (drawn,) = airframe.fin_edges.factors(case)
    assert drawn.guessed
    assert airframe.fin_edges.home(case) == "rocket.toml:part[fins].bevel"
    low, high = (
        float(one_flight(case, {}, {"fin_edges": z}).parameter("axial_factor")[0])
        for z in (-9.0, 9.0)
    )
    assert high > 1.0 > low and high + low == approx(2.0)


@pytest.mark.parametrize(("score", "side"), [(-9.0, "least"), (9.0, "blunt"), (0.0, "middle")])
def test_drag_of_edges_that_are_not_said(score: float, side: str) -> None:
    """The table's own times the factor is the drag of the shape at that end."""
    case = with_part(sample_case(), Fins, edges=None)
    factor = one_flight(case, {}, {"fin_edges": score}).parameter("axial_factor")
    found = summary(case.rocket).axial * float(factor[0])
    axial = {
        edges: summary(with_part(sample_case(), Fins, edges=edges, bevel_m=MEETS).rocket).axial
        for edges in ("faired", "blunt", "bevelled", "rounded")
    }
    wanted = {"least": min(axial.values()), "blunt": axial["blunt"]}
    wanted["middle"] = (wanted["least"] + wanted["blunt"]) / 2.0
    assert found == approx(wanted[side], rel=1e-6)


def test_each_share_of_the_way_is_as_likely() -> None:
    """A tenth of the flights lies within the first tenth of the way."""
    case = with_part(sample_case(), Fins, edges=None)
    ends = [
        float(one_flight(case, {}, {"fin_edges": z}).parameter("axial_factor")[0])
        for z in (-9.0, TENTH, 9.0)
    ]
    assert (ends[1] - ends[0]) / (ends[2] - ends[0]) == approx(0.1, abs=1e-6)


def test_a_second_set_that_says_its_own_does_not_move() -> None:
    """Two sets without a word move the drag twice as far as one."""
    unsaid = with_part(sample_case(), Fins, edges=None)
    fins = next(part for part in unsaid.rocket.parts if isinstance(part, Fins))
    moved = {}
    for edges in ("faired", None):
        parts = (*unsaid.rocket.parts, replace(fins, name="strakes", edges=edges))
        both = replace(unsaid, rocket=replace(unsaid.rocket, parts=parts))
        low, high = (
            float(one_flight(both, {}, {"fin_edges": z}).parameter("axial_factor")[0])
            for z in (-9.0, 9.0)
        )
        moved[edges] = (high - low) * summary(both.rocket).axial
    assert moved[None] == approx(2.0 * moved["faired"], rel=1e-6)


def test_where_it_is_written() -> None:
    case = with_part(sample_case(), Fins, edges=None)
    assert airframe.fin_edges.home(case) == "rocket.toml:part[fins].edges"
