"""Rows of guides and rail by hand; sizes made up, the least rooms (0.2, 1, 2 mm) our guess."""

import math
from dataclasses import replace
from typing import Any

import pytest
from pytest import approx

from goodflight.physics.structure.rail_fit import (
    Guide,
    Slot,
    fin_play,
    lug_plays,
    slot_plays,
    sticking_reach_m,
)
from goodflight.physics.vehicle.parts import Buttons, Fins, Transition
from goodflight.studies.case.planned import Case
from goodflight.studies.rows import Evaluation, Missing
from one_flight import ROWS, hand_case, judged, one_flight, with_part
from sample_case import within

SLOT = {"rail_slot": "6.5 mm", "rail_lips": "2.2 mm", "rail_inside": "14.8 mm",
        "rail_depth": "6.2 mm"}  # fmt: skip
GUIDE: dict[str, Any] = {"neck_m": 0.0060, "head_m": 0.0110, "head_height_m": 0.003,
                         "told_height_m": 0.010}  # fmt: skip


def told(case: Case, guide: dict[str, Any] | None = None, **field: str) -> Case:
    return with_part(within(case, "field_says", **field), Buttons, **(guide or {}))


def words(case: Case) -> str:
    found = ROWS["rail_fit"].evaluate(one_flight(case))
    assert isinstance(found, Evaluation)
    return "; ".join(map(str, found.warnings))


def test_rooms_of_a_guide_place_by_place() -> None:
    """6.5 - 6.0; 14.8 - 11.0; 6.2 - 2.2 - 3.0; (11.0 - 6.5) / 2; 10 - 3 - 2.2 - 1.5 mm."""
    plays = slot_plays(
        Guide(0.006, 0.011, 0.003, 0.010), Slot(0.0065, 0.0022, 0.0148, 0.0062), 0.0015
    )
    assert [1000 * each.value_m for each in plays] == approx([0.5, 3.8, 1.0, 2.25, 3.3])
    assert [1000 * each.least_m for each in plays] == approx([0.2, 0.2, 0.2, 1.0, 2.0])


def test_a_guide_that_fits_and_its_places_when_it_does_not() -> None:
    assert judged("rail_fit", one_flight(told(hand_case(), GUIDE, **SLOT))) == approx((0.0, 0.5))
    for change, places in (
        ({"neck_m": 0.0064}, 1), ({"head_m": 0.0147}, 1), ({"head_height_m": 0.0039}, 1),
        ({"head_m": 0.0084}, 1), ({"told_height_m": 0.0071}, 1),
        ({"neck_m": 0.0070, "head_m": 0.0150}, 2),
    ):  # fmt: skip
        case = told(hand_case(), {**GUIDE, **change}, **SLOT)
        assert judged("rail_fit", one_flight(case)) == approx((places, 0.5)), change
    # just enough is enough: 0.2 mm between the lips
    case = told(hand_case(), {**GUIDE, "neck_m": 0.0063}, **SLOT)
    assert judged("rail_fit", one_flight(case))[0] == 0.0


def test_kinds_by_their_labels() -> None:
    kind = "25 mm, slot 6 mm"
    same = told(hand_case(), {"made_for": kind}, rail_kind=kind)
    assert judged("rail_fit", one_flight(same))[0] == 0.0 and "by their labels" in words(same)
    other = told(hand_case(), {"made_for": "30 mm, slot 8 mm"}, rail_kind=kind)
    assert judged("rail_fit", one_flight(other)) == (1.0, 0.5)
    rod = told(hand_case(), {"bore_m": 0.0085}, rail_kind=kind)
    assert judged("rail_fit", one_flight(rod)) == (1.0, 0.5) and "made for a rod" in words(rod)


def test_lugs_on_a_rod() -> None:
    """8.5 mm on 8 mm: 0.5 mm of play; on 8.4 mm: 0.1."""
    for rod, places in (("8 mm", 0), ("8.4 mm", 1)):
        case = told(hand_case(), {"bore_m": 0.0085}, rail_kind="rod", rod=rod)
        assert judged("rail_fit", one_flight(case))[0] == places
    assert "a rod bends" in words(case)
    # a body that stands out 2 mm leaves 12 - 8.5 - 2 = 1.5 mm, less than 2
    off = lug_plays(0.0085, 0.012, 0.008, 0.002)[1]
    assert off.value_m == approx(0.0015) and not off.enough


def test_fins_beside_the_rail() -> None:
    """At 45 deg a rail 6 mm off a body of 40 mm radius is met 46 mm beside its middle; half a
    fin of 4 mm takes 2 / cos 45 = 2.83 mm, half a rail of 25 mm 12.5 mm."""
    play = fin_play(math.pi / 4, 0.040, 0.10, 0.004, 0.006, 0.025)
    assert play is not None
    assert 1000 * play.value_m == approx(46.0 - 2.8284 - 12.5, abs=1e-3)
    # (40 + 20) cos 45 = 42.4 mm: shorter fins end before the rail's face
    assert fin_play(math.pi / 4, 0.040, 0.020, 0.004, 0.006, 0.025) is None
    # 300 mm long at 85 deg on 20 mm still passes the face, 21 mm off: 21 tan 85 - 2 / cos 85 - 12.5
    steep = fin_play(math.radians(85.0), 0.020, 0.30, 0.004, 0.001, 0.025)
    assert steep is not None and 1000 * steep.value_m == approx(204.58, abs=0.01)
    assert fin_play(math.pi / 2, 0.020, 0.30, 0.004, 0.001, 0.025) is None
    # eight fins leave 22.5 deg: 46 tan 22.5 - 2 / cos 22.5 = 16.9 mm, a rail of 40 mm fouls them
    kind = "40 mm, slot 8 mm"
    case = with_part(told(hand_case(), {"made_for": kind}, rail_kind=kind), Fins, count=8)
    assert judged("rail_fit", one_flight(case))[0] == 1.0 and "fin beside the rail" in words(case)


@pytest.mark.parametrize(
    ("guide", "field", "places"),
    [
        # by its label 6 mm off, half of the guide's 12: 46 x 0.41421 - 2.1648 - 15 = 1.89
        ({"made_for": "30 mm, slot 8 mm", "height_m": 0.012}, {"rail_kind": "30 mm, slot 8 mm"}, 1),
        # lugs hold the rod (30.5 - 27) / 2 = 1.75 off: 17.293 - 2.1648 - 13.1 = 2.03, - 13.2 = 1.93
        ({"bore_m": 0.027, "height_m": 0.0305}, {"rail_kind": "rod", "rod": "26.2 mm"}, 0),
        ({"bore_m": 0.027, "height_m": 0.0305}, {"rail_kind": "rod", "rod": "26.4 mm"}, 1),
        # measured 10 - 3 - 2.2 = 4.8 off, a rail twice its inside wide:
        # 18.557 - 2.1648 - 14.3 = 2.09, - 14.4 = 1.99
        (GUIDE, {**SLOT, "rail_inside": "14.3 mm"}, 0),
        (GUIDE, {**SLOT, "rail_inside": "14.4 mm"}, 1),
    ],
)
def test_eight_fins_beside_rails_of_each_sort(
    guide: dict[str, Any], field: dict[str, str], places: int
) -> None:
    """22.5 deg to the next fin: (40 mm + off) tan 22.5 - 2 / cos 22.5, less half the rail's width,
    against 2 mm."""
    case = with_part(told(hand_case(), guide, **field), Fins, count=8)
    assert judged("rail_fit", one_flight(case)) == (places, 0.5)


def test_what_is_not_told_is_asked_for_all_at_once() -> None:
    found = ROWS["rail_fit"].evaluate(one_flight(hand_case()))
    assert isinstance(found, Missing)
    assert [each.key.rpartition(":")[2].rpartition(".")[2] for each in found.asks] == [
        "rail_kind", "made_for", "rail_slot", "rail_lips", "rail_inside", "rail_depth",
        "neck", "head", "head_height", "height",
    ]  # fmt: skip
    half = told(hand_case(), GUIDE, **{**SLOT, "rail_kind": "25 mm, slot 6 mm"})
    less = with_part(half, Buttons, head_m=None)
    assert isinstance(ROWS["rail_fit"].evaluate(one_flight(less)), Missing)


def test_a_body_that_swells_needs_sizes() -> None:
    """Equal labels say nothing of a body 3 mm wider ahead of the guides."""
    kind = "25 mm, slot 6 mm"
    case = told(hand_case(), {"made_for": kind}, rail_kind=kind)
    parts = list(case.rocket.parts)
    tube = next(i for i, part in enumerate(parts) if part.name == "tube")
    parts[tube] = replace(parts[tube], station_m=0.25, length_m=0.75)  # type: ignore[call-arg]
    parts.append(
        Transition("step", 0.20, length_m=0.05, fore_diameter_m=0.086, aft_diameter_m=0.08)
    )
    nose = next(i for i, part in enumerate(parts) if part.name == "nose")
    parts[nose] = replace(parts[nose], diameter_m=0.086)  # type: ignore[call-arg]
    wide = replace(case, rocket=replace(case.rocket, parts=tuple(parts)))
    assert isinstance(ROWS["rail_fit"].evaluate(one_flight(wide)), Missing)
    # 10 - 3 - 2.2 - 3 = 1.8 mm off the rail, less than 2
    sized = told(wide, GUIDE, **SLOT)
    assert judged("rail_fit", one_flight(sized))[0] == 1.0 and "body off the rail: 1.8" in words(
        sized
    )


def test_guides_stick() -> None:
    """2 mu e: body radius 40 mm, guides 10 mm, friction 0.2, 0.06 a deviation (practice)."""
    case = hand_case()
    assert judged("guides_stick", one_flight(case)) == approx((2 * 0.2 * 0.050, 0.30))
    rough = one_flight(case, scores={"rail_friction": 2.0})
    assert judged("guides_stick", rough)[0] == approx(2 * 0.32 * 0.050)


@pytest.mark.parametrize("offset", (0.02, 0.1))
def test_the_ratio_of_two_to_one(offset: float) -> None:
    """Sliding bearings bind where the load stands off more than twice their distance, at friction
    0.25 (rule of the machine trade, from memory)."""
    assert float(sticking_reach_m(0.25, offset)) == approx(offset / 2.0)
