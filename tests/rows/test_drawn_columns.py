"""What is drawn, turned into the columns that are flown: each worked out by hand."""

import math
from dataclasses import replace

import pytest
from pytest import approx

from goodflight.physics.vehicle.parts import Canopy, Cord, Fins
from goodflight.studies.case.joints import Stay
from goodflight.studies.case.planned import Case, Feature, Sensitivity
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.rows import View
from goodflight.studies.rows.packed import packed
from goodflight.studies.rows.separation import sections
from goodflight.studies.sampling import (
    air,
    airframe,
    damp,
    electronics,
    motor,
    rail,
    recovery,
    separation,
    structure,
)
from goodflight.studies.sampling.declared import stated_of, varying
from goodflight.studies.sampling.glue import GlueState, glue_states
from goodflight.studies.sampling.joined import joined
from goodflight.studies.sampling.trials import nominal
from one_flight import hand_case, one_flight, with_part
from sample_case import within

LENGTH, FINISH = "rocket.toml:part[nose].length", "rocket.toml:surface.roughness"
FEATURES: dict[Feature, float] = {
    "mass_kg": 1.5,
    "axial": 0.5,
    "body_slope": 2.0,
    "fin_slope": 8.0,
    "canopy_area": 1.0,
}


def with_figures() -> Case:
    """A length that moves much and a finish that moves the drag alone, for one sigma of each."""
    moves: dict[Feature, float] = {
        "cp_m": -0.004,
        "axial": 0.01,
        "body_slope": 0.05,
        "fin_slope": 0.16,
        "canopy_area": 0.02,
    }
    case = hand_case()
    items = {item.name: (0.01, 0.003) for item in case.items}
    length = Sensitivity(
        LENGTH, "length of the nose", "length", 0.2, 0.002, "", effects=moves, items=items
    )
    finish = replace(length, path=FINISH, label="finish", effects={"axial": 0.02}, items={})
    return within(case, "uncertainty", sensitivities=(length, finish), features=FEATURES)


def column(view: View, name: str) -> float:
    return float(view.parameter(name)[0])


def test_a_length_moves_what_it_does_for_one_standard_deviation() -> None:
    """Ratios are effect / nominal: 0.01 / 0.5, 0.05 / 2, 0.16 / 8, 0.02 / 1.

    Every mass but the motor's 0.2 kg at 0.9 m a hundredth more, 3 mm further aft: 1.5 kg become
    1.515 kg, of 1.7 in all, which balance at (1.01 x 0.835 + 0.003 x 1.515 + 0.18) / 1.715 m.

    The CP of the table (Mach 0.3: body 2 at 0.15 m, fins 8.15 at 0.92 m) follows the slopes in
    flight: X = (0.3 + 7.498) / 10.15 = 0.768276, dX = (2 x 0.025 (0.15 - X) + 8.15 x 0.02
    (0.92 - X)) / 10.15 = -0.000609; what is left of -4 mm is a shift (derived).
    """
    middle = one_flight(with_figures())
    moved = one_flight(with_figures(), {}, {f"figure:{LENGTH}": 1.0})
    assert column(moved, "dry_cg_m") == approx((1.01 * 0.835 + 0.003 * 1.515 + 0.18) / 1.715)
    ratios = {
        "dry_mass_kg": 1.715 / 1.7,
        "axial_factor": 1.02,
        "body_slope_factor": 1.025,
        "fin_slope_factor": 1.02,
        "canopy_area_m2": 1.02,
        "canopy_diameter_m": math.sqrt(1.02),
    }
    found = {name: column(moved, name) / column(middle, name) for name in ratios}
    assert found == approx(ratios, rel=1e-9)
    assert column(middle, "cp_shift_m") == 0.0
    assert column(moved, "cp_shift_m") == approx(-0.004 + 0.000609, abs=1e-6)


def test_sections_add_up_where_lengths_move_masses() -> None:
    """A hundredth of each section's own parts; the spent motor, 0.2 kg, hangs behind as it was."""
    middle, moved = (
        one_flight(with_figures(), {}, {f"figure:{LENGTH}": each}) for each in (0.0, 1.0)
    )
    one, two = sections(middle), sections(moved)
    assert two.nose_kg == approx(1.01 * one.nose_kg) and two.tip_kg == approx(1.01 * one.tip_kg)
    assert two.booster_kg == approx(1.01 * (one.booster_kg - 0.2) + 0.2)
    for view, found in ((middle, one), (moved, two)):
        together = found.nose_kg + found.gear_kg + found.booster_kg
        assert together == approx(column(view, "dry_mass_kg"))


def test_a_figure_moves_nothing_that_it_has_no_effect_on() -> None:
    middle = one_flight(with_figures())
    moved = one_flight(with_figures(), {}, {f"figure:{FINISH}": 1.0})
    assert column(moved, "axial_factor") == approx(1.04)  # 0.02 of 0.5
    for name in ("dry_mass_kg", "dry_cg_m", "body_slope_factor", "fin_slope_factor", "cp_shift_m",
                 "canopy_area_m2"):  # fmt: skip
        assert column(moved, name) == column(middle, name), name


def test_masses_balance_and_pitch_inertia() -> None:
    """1.5 kg of points and the empty case, 0.2 kg of 38 mm by 0.2 m at 0.9 m.

    Balance (0.835 + 0.18) / 1.7 m; sum of m x^2 0.75025, less 1.7 x 0.597059^2 = 0.606015, and the
    case's own 0.2 (0.019^2 / 2 + 0.2^2 / 12) = 0.000703: 0.144938 kg m2, 3 % a sigma (guess).
    """
    middle = one_flight(hand_case())
    assert column(middle, "dry_mass_kg") == approx(1.7)
    assert column(middle, "dry_cg_m") == approx(0.597059, abs=1e-6)
    assert column(middle, "dry_pitch_inertia_kg_m2") == approx(0.144938, abs=1e-6)
    off = one_flight(hand_case(), {}, {"pitch_inertia": 1.0})
    assert column(off, "dry_pitch_inertia_kg_m2") == approx(0.144938 * 1.03, abs=1e-6)


OFF = {  # key: (quantity, what one standard deviation is, or a share of the middle)
    "thrust_angle_y": (motor.thrust_angle_y, math.radians(0.2), 0.0),
    "thrust_angle_z": (motor.thrust_angle_z, math.radians(0.2), 0.0),
    "thrust_offset_y": (motor.thrust_offset_y, 0.0005, 0.0),
    "thrust_offset_z": (motor.thrust_offset_z, 0.0005, 0.0),
    "rail_azimuth": (rail.azimuth, math.radians(10.0), 0.0),
    "rail_friction": (rail.friction, 0.06, 0.0),
    "gust_factor": (air.gustiness, 0.0, 0.2),
    "paper_swelling": (damp.swelling, 0.0, 0.4),
}


@pytest.mark.parametrize("key", OFF)
def test_what_nobody_states_is_off_by_its_own_reason(key: str) -> None:
    """Thrust line: 0.5 mm over 200 mm of tube, 0.14 deg, and 0.1 deg of nozzle; rail by eye at a
    streamer; plastic on aluminium 0.15 to 0.3; gusts of a hand-held meter; walls that swell by 2 to
    5 % of their thickness, 3.5 in the middle (all common practice, no source, or memory)."""
    quantity, most, share = OFF[key]
    middle = float(one_flight(hand_case()).of(quantity)[0])
    off = float(one_flight(hand_case(), {}, {key: 1.0}).of(quantity)[0])
    assert off - middle == approx(most + share * middle)


def test_a_quantity_is_drawn_or_stands_as_it_is() -> None:
    stated = stated_of(hand_case())
    drawn, still = varying(stated)
    assert all(each.sigma > 0.0 for each in drawn) and all(each.sigma == 0.0 for each in still)
    assert len(drawn) + len(still) == len(stated)


ENDS = {
    "rail_friction": (rail.friction, 0.02, math.inf),  # guides never slide for nothing
    "wind_exponent": (air.wind_exponent, 0.0, 0.6),  # no less than at the ground, nor above towns
    "pad_wait": (electronics.pad_wait, 0.0, math.inf),
}


@pytest.mark.parametrize("key", ENDS)
def test_what_is_drawn_stays_within_what_can_be(key: str) -> None:
    """Our bounds: far out in the scores the figure stands on one of them."""
    quantity, least, most = ENDS[key]
    case = hand_case()
    case = replace(case, day=replace(case.day, wind_exponent=0.2, wind_exponent_sigma=0.03))
    case = within(case, "deployment", pad_wait_s=1200.0, pad_wait_sigma_s=400.0)
    low, high = (float(one_flight(case, {}, {key: z}).of(quantity)[0]) for z in (-50.0, 50.0))
    assert low == least
    assert most in (high, math.inf)


def test_every_fin_has_a_cant_and_no_fin_none() -> None:
    keys = [factor.key for factor in airframe.cant.factors(hand_case())]
    assert keys == ["cant:1", "cant:2", "cant:3"]
    rocket = hand_case().rocket
    parts = tuple(part for part in rocket.parts if not isinstance(part, Fins))
    bare = replace(hand_case(), rocket=replace(rocket, parts=parts))
    assert not airframe.cant.factors(bare)


def test_where_pull_and_powder_are_written() -> None:
    case = hand_case()
    assert separation.pull.home(case) == "rocket.toml:separation.pull"
    assert separation.powder.home(case) == "rocket.toml:charge.powder"


def test_room_of_a_pack_as_it_was_measured() -> None:
    """50 mm of canopy on 30 mm of cord: 80 mm are the pack as planned, 96 mm a fifth more."""
    case = with_part(hand_case(), Canopy, packed_length_m=0.05)
    case = with_part(case, Cord, packed_length_m=0.03)
    way = recovery.pack_room.measured_by
    assert way is not None and way.shows is not None
    found = [way.shows.becomes(case, length) for length in (0.080, 0.096)]
    assert found == approx([1.0, 1.2])


def test_what_is_packed_by_its_mass() -> None:
    """The canopy says no packed length, the cord does: 80 mm whatever it weighs."""
    assert list(packed(hand_case())) == ["canopy"]


def test_which_side_meets_the_ground_is_as_likely_as_any_other() -> None:
    """A quarter of the flights lies beyond 0.6744898 standard deviations (normal law)."""
    view = one_flight(hand_case(), {}, {"touch_roll": 0.6744898})
    assert view.of(structure.touch_roll)[0] == approx(0.75, abs=1e-6)


def test_what_is_left_of_the_delay() -> None:
    """10 s less 3 s taken out, 0.12 s deeper at one sigma of the drill (practice): 6.88 s, and 5 %
    longer at one sigma of the motor. No drill, nothing out; never below nothing."""
    case = hand_case()
    case = replace(case, motor=replace(case.motor, delay_sigma=0.05))
    drilled = within(case, "deployment", delay_out_s=3.0)
    assert column(one_flight(drilled), "delay_s") == approx(7.0)
    deep = {"trim_depth": 1.0, "delay": 1.0}
    assert column(one_flight(drilled, {}, deep), "delay_s") == approx(6.88 * 1.05)
    assert column(one_flight(case, {}, {"trim_depth": 1.0}), "delay_s") == 10.0
    little = within(case, "deployment", delay_out_s=0.05)
    assert column(one_flight(little, {}, {"trim_depth": 1.0}), "delay_s") == approx(9.83)
    gone = within(case, "deployment", delay_out_s=12.0)
    assert column(one_flight(gone), "delay_s") == 0.0
    plugged = replace(case, motor=replace(case.motor, delay_s=None))
    assert column(one_flight(plugged), "delay_s") == 0.0


def test_height_of_the_main() -> None:
    """Air of 290 K stands 290 / 288.15 as high; 5 m is one sigma (memory); never below ground."""
    main = Canopy("main", 0.30, cloth_area_m2=2.0)
    low = within(hand_case(), "deployment", main_canopy=main, main_height_m=10.0)
    assert column(one_flight(low), "main_height_m") == approx(10.064, abs=0.002)
    assert column(one_flight(low, {}, {"main_height": 1.0}), "main_height_m") == approx(
        15.064, abs=0.002
    )
    assert column(one_flight(low, {}, {"main_height": -3.0}), "main_height_m") == 0.0
    assert column(one_flight(hand_case()), "main_height_m") == 0.0


def test_a_canopy_never_opens_softer_than_its_steady_pull_and_none_pulls_nothing() -> None:
    assert column(one_flight(hand_case(), {}, {"overshoot": -10.0}), "canopy_overshoot") == 1.0
    bare = within(hand_case(), "deployment", canopy=None)
    rocket = bare.rocket
    parts = tuple(part for part in rocket.parts if not isinstance(part, Canopy))
    bare = replace(bare, rocket=replace(rocket, parts=parts))
    assert column(one_flight(bare), "canopy_area_m2") == 0.0


def test_places_on_the_rail_are_those_of_the_rocket() -> None:
    view = one_flight(hand_case())
    names = ("rail_length_m", "guide_fore_m", "guide_aft_m", "rail_base_m")
    assert [column(view, name) for name in names] == [2.4, 0.60, 0.90, 0.3]


def test_a_tumbling_rocket_drags_with_half_its_side() -> None:
    """0.5 of the side view, 0.08 m2: our guess, no source."""
    assert column(one_flight(hand_case()), "tumble_area_m2") == approx(0.5 * 0.08)


def test_the_nominal_flight_is_one() -> None:
    flown = nominal(hand_case())
    assert (len(flown.parameters), flown.seeds.tolist()) == (1, [1])


def test_a_column_without_a_figure_is_refused_by_its_name() -> None:
    lost = within(hand_case(), "rail", length_m=math.nan)
    lost = within(lost, "origin", plan_path="plans.toml:plan[made up]")
    with pytest.raises(StudyRefused, match="no figure for rail_length_m") as refused:
        one_flight(lost)
    assert "plan[made up]" in str(vars(refused.value))


def test_samples_read_as_one_stand_one_behind_the_other() -> None:
    """One alone is itself; two winds of 3 and 5 m/s are two flights."""
    calm, windy = (
        nominal(replace(hand_case(), day=replace(hand_case().day, wind_m_s=wind)))
        for wind in (3.0, 5.0)
    )
    alone = joined([calm]).drawn
    assert alone.has(air.wind) and alone.case is calm.drawn.case
    both = joined([calm, windy])
    assert both.drawn.of(air.wind).tolist() == [3.0, 5.0]
    assert len(both.parameters) == len(both.seeds) == 2


def test_glue_is_as_warm_as_the_place_it_was_glued_in() -> None:
    """A shed of 10 degC for 16 hours, then a room of 20 degC for ten days: glued at 10 degC. Two
    stays at one warmth, of 16 and 24 hours, are one of 40."""
    shop = hand_case().workshop
    (joint,) = shop.joints
    shed, room = Stay("shed", 16.0, 283.15, 1.0), Stay("room", 240.0, 293.15, 1.0)

    def state(*stays: Stay) -> GlueState:
        case = replace(hand_case(), workshop=replace(shop, joints=(replace(joint, stays=stays),)))
        return glue_states(nominal(case).drawn)[0]

    found = state(shed, room)
    assert found.glued_at_k is not None and found.glued_at_k.tolist() == [283.15]
    whole, split = state(replace(shed, hours=40.0)), state(shed, replace(shed, hours=24.0))
    assert split.cured == approx(whole.cured)
