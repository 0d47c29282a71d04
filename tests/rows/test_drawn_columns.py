"""What is drawn, turned into the columns that are flown: each worked out by hand."""

import math
from dataclasses import replace

import pytest
from pytest import approx

from goodflight.physics.vehicle.parts import Canopy
from goodflight.studies.case.planned import Case, Sensitivity
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.rows import View
from goodflight.studies.sampling.trials import nominal
from one_flight import hand_case, one_flight
from sample_case import within

LENGTH, FINISH = "rocket.toml:part[nose].length", "rocket.toml:surface.roughness"
FEATURES = {"mass_kg": 1.5, "axial": 0.5, "body_slope": 2.0, "fin_slope": 8.0, "canopy_area": 1.0}


def with_figures() -> Case:
    """A length that moves much and a finish that moves the drag alone, for one sigma of each."""
    moves = {
        "mass_kg": 0.015,
        "cg_m": 0.003,
        "cp_m": -0.004,
        "axial": 0.01,
        "body_slope": 0.05,
        "fin_slope": 0.16,
        "canopy_area": 0.02,
    }
    length = Sensitivity(LENGTH, "length of the nose", "length", 0.2, 0.002, "", effects=moves)
    finish = replace(length, path=FINISH, label="finish", effects={"axial": 0.02})
    return within(hand_case(), "uncertainty", sensitivities=(length, finish), features=FEATURES)


def column(view: View, name: str) -> float:
    return float(view.parameter(name)[0])


def test_a_length_moves_what_it_does_for_one_standard_deviation() -> None:
    """Ratios are effect / nominal: 0.015 / 1.5, 0.01 / 0.5, 0.05 / 2, 0.16 / 8, 0.02 / 1.

    The CP of the table (Mach 0.3: body 2 at 0.15 m, fins 8.15 at 0.92 m) follows the slopes in
    flight: X = (0.3 + 7.498) / 10.15 = 0.768276, dX = (2 x 0.025 (0.15 - X) + 8.15 x 0.02
    (0.92 - X)) / 10.15 = -0.000609; what is left of -4 mm is a shift (derived).
    """
    middle = one_flight(with_figures())
    moved = one_flight(with_figures(), {}, {f"figure:{LENGTH}": 1.0})
    shift = column(moved, "dry_cg_m") - column(middle, "dry_cg_m")
    assert shift == approx(0.003, abs=1e-9)
    ratios = {
        "dry_mass_kg": 1.01,
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


def test_a_figure_moves_nothing_that_it_has_no_effect_on() -> None:
    middle = one_flight(with_figures())
    moved = one_flight(with_figures(), {}, {f"figure:{FINISH}": 1.0})
    assert column(moved, "axial_factor") == approx(1.04)  # 0.02 of 0.5
    for name in ("dry_mass_kg", "dry_cg_m", "body_slope_factor", "fin_slope_factor", "cp_shift_m",
                 "canopy_area_m2"):  # fmt: skip
        assert column(moved, name) == column(middle, name), name


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


def test_the_nominal_flight_is_one() -> None:
    flown = nominal(hand_case())
    assert (len(flown.parameters), flown.seeds.tolist()) == (1, [1])


def test_a_column_without_a_figure_is_refused_by_its_name() -> None:
    lost = within(hand_case(), "rail", length_m=math.nan)
    lost = within(lost, "origin", plan_path="plans.toml:plan[made up]")
    with pytest.raises(StudyRefused, match="no figure for rail_length_m") as refused:
        one_flight(lost)
    assert "plan[made up]" in str(vars(refused.value))
