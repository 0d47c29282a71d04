"""Rows of a rocket whose mass is known as one: how it lies about the separation, by hand.

Moments of two masses: f x_f + (1 - f) x_a = x. Inertia of an even rod: m l^2 / 12.
"""

from dataclasses import replace

import numpy as np
import pytest
from pytest import approx

from goodflight.physics.vehicle.part import Material
from goodflight.physics.vehicle.parts import AddedMass, Bulkhead, Coupler, Nose
from goodflight.physics.vehicle.sections import share_ahead
from goodflight.studies.case.planned import Case
from goodflight.studies.rows import Missing, View
from goodflight.studies.rows.separation import sections
from goodflight.studies.rows.touchdown import aft_share
from goodflight.studies.sampling.airframe import aft_lies, fore_lies
from goodflight.studies.sampling.sections import held
from one_flight import ROWS, hand_case, judged, one_flight, with_part

SOFT = ("canopy", "cord", "bay", "loggers")
EJECTED = {"ejection_m_s": 17.0, "ejection_climb_m_s": -8.5, "ejection_m": 580.0,
           "burnout_m_s": 136.0, "burnout_m": 100.0, "max_speed_m_s": 140.0,
           "max_speed_height_m": 90.0, "apogee_m": 600.0}  # fmt: skip


def in_one(balance_m: float = 0.55) -> Case:
    """The rocket of round numbers, 1.3 kg of it known as one mass; no part says of what it is."""
    case = hand_case()
    parts = [
        part if part.name in SOFT else replace(part, mass_kg=0.0, material=None)
        for part in case.rocket.parts
    ]
    whole = AddedMass("all", 0.1, mass_kg=1.3, length_m=0.9, balance_m=balance_m, role="whole")
    gear = tuple(item for item in case.items if item.name in SOFT)
    item = replace(case.items[0], name="all", mass_kg=1.3, station_m=balance_m)
    rocket = replace(case.rocket, parts=(*parts, whole))
    return replace(case, rocket=rocket, items=(item, *gear))


def test_a_share_by_moments() -> None:
    """0.4 at 0.45 m and 0.6 at 1.20 m balance at 0.90 m; beyond both sides it is all of one."""
    assert approx(0.90) == 0.4 * 0.45 + 0.6 * 1.20
    assert share_ahead(np.array([0.90, 0.30, 1.30]), 0.45, 1.20) == approx([0.4, 1.0, 0.0])


def test_the_whole_lies_on_both_sides_of_the_separation() -> None:
    """Parts that say nothing balance mid way: 0.2 m of 0.4, 0.7 m of 0.4 to 1.0; f = 0.3.

    The spent motor, 0.2 kg from 0.8 to 1.0 m, hangs behind.
    """
    found = sections(one_flight(in_one()))
    assert found.nose_kg == approx(0.3 * 1.3) and found.gear_kg == approx(0.2)
    assert found.tip_kg == approx(0.0)
    aft = 0.7 * 1.3
    assert found.booster_kg == approx(aft + 0.2)
    middle = (aft * 0.7 + 0.2 * 0.9) / (aft + 0.2)
    assert found.booster_cg_m == approx(middle)
    own = aft * (0.6**2 / 12.0 + (0.7 - middle) ** 2) + 0.2 * (0.9 - middle) ** 2
    motor = found.booster_inertia_kg_m2[0] - own  # a shell of 0.2 m by 38 mm
    assert motor == approx(0.2 * (0.2**2 / 12.0 + 0.019**2 / 2.0))


def test_where_it_lies_is_drawn() -> None:
    """0.15 of 0.4 m, 0.05 of 0.6 m a standard deviation; moments give the share again."""
    ahead = sections(one_flight(in_one(), {}, {fore_lies.key: 1.0}))
    assert ahead.nose_kg == approx(1.3 * (0.70 - 0.55) / (0.70 - 0.26))
    behind = sections(one_flight(in_one(), {}, {aft_lies.key: -1.0}))
    assert behind.nose_kg == approx(1.3 * (0.67 - 0.55) / (0.67 - 0.20))


def test_shapes_and_materials_say_where_a_side_balances() -> None:
    """A sleeve of 0.2 m from 0.2 m on: 0.3 m; all that is behind says nothing: 0.7 m."""
    case = in_one()
    kraft = Material("kraft", 725.0, family="kraft")
    sleeve = Coupler(
        "sleeve",
        0.2,
        kraft,
        mass_kg=0.0,
        length_m=0.2,
        outer_diameter_m=0.076,
        inner_diameter_m=0.072,
    )
    case = replace(case, rocket=replace(case.rocket, parts=(*case.rocket.parts, sleeve)))
    assert sections(one_flight(case)).nose_kg == approx(1.3 * (0.70 - 0.55) / (0.70 - 0.30))


def in_three(first_m: float = 0.4, main_m: float = 0.7, balance_m: float = 0.55) -> Case:
    case = in_one(balance_m)
    rocket = replace(case.rocket, separation_station_m=first_m, main_station_m=main_m)
    return replace(case, rocket=rocket)


def test_two_separations_cut_one_split() -> None:
    """0.3 of it ahead of 0.4 m, as above; the rest, at 0.7 m, is cut there: halves at 0.55, 0.85.

    Each cut by itself would put (0.85 - 0.55) / (0.85 - 0.35) = 0.6 ahead of the second, not 0.65.
    """
    view = one_flight(in_three())
    assert sections(view).nose_kg == approx(0.3 * 1.3)
    assert sections(view, main=True).nose_kg == approx((0.3 + 0.7 / 2.0) * 1.3 + 0.2)  # and gear
    assert sections(view, main=True).booster_kg == approx(0.7 / 2.0 * 1.3 + 0.2)
    forward = one_flight(in_three(0.7, 0.4))  # the first behind: 0.6 at 0.35 m, cut at 0.2, 0.55
    assert sections(forward).nose_kg == approx(0.6 * 1.3)
    assert sections(forward, main=True).nose_kg == approx(0.6 * 1.3 * (0.55 - 0.35) / 0.35)


@pytest.mark.parametrize("balance_m", [0.05, 0.25, 0.55, 0.85])
@pytest.mark.parametrize("stations", [(0.4, 0.7), (0.7, 0.4)])
def test_lumps_weigh_and_balance_as_the_whole(
    stations: tuple[float, float], balance_m: float
) -> None:
    """Shares add up to 1, share x place to the balance of the whole, on every flight; none < 0."""
    for fore, aft in ((0.0, 0.0), (-2.0, 1.0), (2.5, -2.5), (3.0, 3.0), (-3.0, -3.0)):
        view = one_flight(
            in_three(*stations, balance_m), {}, {fore_lies.key: fore, aft_lies.key: aft}
        )
        lumps = held(view.trials.drawn)
        assert lumps is not None and len(lumps) == 3
        assert sum(lump.share for lump in lumps) == approx(1.0)
        assert sum(lump.share * lump.at_m for lump in lumps) == approx(balance_m)
        assert all(float(lump.share[0]) >= 0.0 for lump in lumps)
        first, main = sections(view).nose_kg, sections(view, main=True).nose_kg
        assert (main >= first) if stations[0] < stations[1] else (main <= first)


def test_a_part_stands_on_the_side_its_middle_is_on() -> None:
    """A bulkhead 190 mm thick from 0.30 m on has its middle at 0.395 m, ahead of the cut at 0.4."""
    case = in_one()
    plug = Bulkhead(
        "plug", 0.30, Material("foam", 30.0), mass_kg=0.0, thickness_m=0.19, diameter_m=0.07
    )
    case = replace(case, rocket=replace(case.rocket, parts=(*case.rocket.parts, plug)))
    assert sections(one_flight(case)).nose_kg == approx(1.3 * (0.70 - 0.55) / (0.70 - 0.395))


def test_the_tail_takes_its_share_of_the_whole() -> None:
    """0.91 of the whole, gear packed behind the joint and the spent motor, of 1.7 kg."""
    assert aft_share(one_flight(in_one())) == approx((0.91 + 0.2 + 0.2) / 1.7)


def jerked(case: Case) -> Missing:
    found = ROWS["nose_jerked"].evaluate(one_flight(case, EJECTED))
    assert isinstance(found, Missing)
    return found


@pytest.mark.parametrize("key", ["nose_jerked", "charge_strong"])
def test_a_nose_whose_mass_nobody_knows_is_weighed_alone(key: str) -> None:
    """No row says ok of it; with a mass of its own it answers, in a whole as beside none."""
    view = one_flight(in_one(), EJECTED)
    found = ROWS[key].evaluate(view)
    assert isinstance(found, Missing)
    (ask,) = found.asks
    assert (ask.kind, ask.file, ask.choices[0][0]) == ("weighing", "weighings.toml", "nose")
    assert "alone" in found.advice and "out of the whole" in found.advice
    known = with_part(in_one(), Nose, mass_kg=0.3)
    item = replace(hand_case().items[0], name="nose", mass_kg=0.3)
    answers = one_flight(replace(known, items=(*known.items, item)), EJECTED)
    assert judged(key, answers)[0] > 0.0


def test_a_nose_of_no_mass_beside_no_whole_is_asked_for_its_mass() -> None:
    found = jerked(with_part(hand_case(), Nose, mass_kg=0.0))
    assert [(ask.kind, ask.key) for ask in found.asks] == [
        ("figure", "rocket.toml:part[nose].mass")
    ]


def test_rows_of_sections_read_how_the_whole_lies() -> None:
    """What hangs when it is lifted by its nose: 0.91 + 0.2 + 0.2 and 0.1 kg of propellant."""

    def hangs(view: View) -> float:
        return judged("separation_handled", view)[0]

    assert hangs(one_flight(in_one())) == approx(1.41 * 9.80665 * 1.5)
    aft = 1.3 * (0.55 - 0.20) / (0.73 - 0.20)
    moved = one_flight(in_one(), {}, {aft_lies.key: 1.0})
    assert hangs(moved) == approx((aft + 0.2 + 0.2 + 0.1) * 9.80665 * 1.5)
