"""Rows of separation, cord, recovery bay, spin and second canopy: each over its limit by one input.

The case is the invented sample; the numbers asserted are directions and states, not values.
"""

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from typing import Any

import numpy as np
import pytest

from goodflight.physics.flight import registry
from goodflight.physics.vehicle import mass_items
from goodflight.physics.vehicle.figure import Figure
from goodflight.physics.vehicle.parts import Bay, Canopy, Cord, Coupler, MotorTube
from goodflight.studies.case.planned import Case
from goodflight.studies.judging.evaluate import Evaluated, evaluate
from goodflight.studies.levers import LEVERS
from goodflight.studies.levers.whatif import tried
from goodflight.studies.packing import stack_of
from goodflight.studies.questions.fly import nominal_of
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.rows import LIMIT_STATES, View, cord, dual, gear, retention, spin
from goodflight.studies.rows import separation as separation_rows
from goodflight.studies.sampling.flights import fly_trials
from sample_case import sample_case, within

FLIGHTS = 200
ROWS = (*spin.ROWS, *separation_rows.ROWS, *retention.ROWS, *gear.ROWS, *cord.ROWS, *dual.ROWS)


def base() -> Case:
    upright = within(sample_case(1.0), "rail", tilt_rad=0.0)
    return within(upright, "uncertainty", cant_sigma_rad=math.radians(0.25))


def rows_of(case: Case, flights: int = FLIGHTS) -> dict[str, Evaluated]:
    return {row.limit.key: row for row in evaluate(fly_trials(case, flights, 2), ROWS)}


@cache
def _base_rows() -> dict[str, Evaluated]:
    return rows_of(base())


def separation(case: Case, **changes: Any) -> Case:
    changed = replace(case.rocket.separation, **changes)
    return replace(case, rocket=replace(case.rocket, separation=changed))


def given(name: str, value: float) -> Callable[[Case], Case]:
    return lambda case: separation(case, **{name: Figure(value, 0.05 * value)})


def part(case: Case, name: str, **changes: Any) -> Case:
    parts = tuple(replace(p, **changes) if p.name == name else p for p in case.rocket.parts)
    rocket = replace(case.rocket, parts=parts)
    canopy = next(p for p in parts if isinstance(p, Canopy))
    changed = replace(case, rocket=rocket, items=mass_items(rocket))
    return within(changed, "deployment", canopy=canopy)


def dual_case(**changes: Any) -> Case:
    """By altimeter, a small drogue at apogee, the main at 150 m."""
    case = within(base(), "deployment", by=registry.BY_ALTIMETER)
    main = next(p for p in case.rocket.parts if isinstance(p, Canopy))
    drogue = replace(main, name="drogue", across_m=0.35)
    main = replace(main, line_strength_n=changes.pop("line_strength_n", 2000.0))
    drogue = replace(drogue, **changes)
    return within(case, "deployment", canopy=drogue, main_canopy=main, main_height_m=150.0)


OVER: dict[str, Callable[[Case], Case]] = {
    "separation_handled": given("pull_n", 8.0),
    "separation_window": given("pull_n", 1200.0),
    "drag_separation": given("pull_n", 3.0),
    "trapped_air": lambda c: part(given("pull_n", 15.0)(c), "parachute bay", vent_count=0),
    "separation_shut": given("pull_n", 1500.0),
    "charge_strong": given("bulkhead_n", 100.0),
    "motor_pushed_out": given("retention_n", 40.0),
    "retainer_overhang": lambda c: separation(c, retention="clips"),
    "gear_fits": lambda c: part(c, "parachute bay", length_m=0.2),
    "canopy_scorched": given("blanket_m2", 0.02),
    "bay_vents": lambda c: part(c, "parachute bay", vent_count=0),
    "electronics_vents": lambda c: part(c, "logger bay", vent_diameter_m=0.001),
    "canopy_stays": given("pack_pull_n", 900.0),
    "booster_overtakes": lambda c: within(
        replace(c, motor=replace(c.motor, charge_kg=0.0002, charge_sigma_kg=2e-5)),
        "deployment",
        delay_out_s=9.0,
    ),
    "snatch_cord": lambda c: part(c, "cord", joint_efficiency=0.05),
    "snatch_anchor": given("aft_anchor_n", 150.0),
    "zipper": given("edge_strength_pa", 1e5),
    "nose_jerked": given("fixed_joint_n", 40.0),
}


def test_every_row_has_a_way_over_its_limit() -> None:
    """Spin has none: with fins 25 deg off four of five flights still do not stall."""
    elsewhere = {row.key for row in dual.ROWS} | {"spin_pitch"}
    assert set(OVER) | elsewhere == {row.key for row in ROWS}


@pytest.mark.parametrize("key", sorted(OVER))
def test_one_changed_input_drives_the_row_over(key: str) -> None:
    before = _base_rows()[key]
    assert before.known, before.missing
    assert before.failing.mean() < 0.2
    assert rows_of(OVER[key](base()))[key].failing.mean() > 0.5


def test_rows_of_the_second_canopy() -> None:
    good = rows_of(dual_case())
    assert good["drogue_speed"].failing.mean() < 0.1
    assert good["main_opening"].failing.mean() < 0.1
    # a tumbling rocket alone stays below the limit; a heavy one with next to no drogue does not
    heavy = dual_case(across_m=0.1)
    items = tuple(replace(item, mass_kg=2.4 * item.mass_kg) for item in heavy.items)
    low = within(replace(heavy, items=items), "deployment", main_height_m=60.0)
    assert rows_of(low)["drogue_speed"].failing.mean() > 0.5
    assert rows_of(dual_case(line_strength_n=15.0))["main_opening"].failing.mean() > 0.5


def test_the_second_charge_is_an_event_of_the_flight() -> None:
    """150 m of the standard atmosphere are 150 T / T0 on the field, 12 m over the sea."""
    case = dual_case()
    flown = nominal_of(case, calm=True)
    height = {words: height for words, _, height in flown.events}["charge of the second canopy"]
    assert height == pytest.approx(
        150.0 * case.day.temperature_k / (288.15 - 0.0065 * 12.0), abs=0.1
    )
    assert flown.figures["main_m"] == pytest.approx(height)
    assert nominal_of(base(), calm=True).figures["main_s"] is None


def test_a_streamer_may_open_first() -> None:
    """Its strength is asked for where it is tied on; with it every row of the first is known."""
    kind: dict[str, Any] = {"kind": "streamer", "across_m": 0.0, "cloth_area_m2": 0.2,
                            "drag_coefficient": 0.27, "line_count": 0}  # fmt: skip
    asked, told = (
        {row.limit.key: row for row in evaluate(fly_trials(dual_case(**kind, **more), 40, 2))}
        for more in ({"line_strength_n": 2000.0}, {"line_strength_n": 2000.0, "strength_n": 300.0})
    )
    assert "where it is tied on" in asked["opening_canopy"].missing
    assert told["opening_canopy"].failing.mean() < 0.1
    before = {row.limit.key for row in evaluate(fly_trials(base(), 40, 2)) if row.known}
    assert not {key for key in before if told[key].missing and not key.startswith("main_")}


NOTHING: dict[str, tuple[str, ...]] = {
    "pull_n": ("separation_handled", "separation_window", "separation_shut", "drag_separation",
               "trapped_air", "bay_vents", "canopy_stays", "snatch_cord"),
    "retention_n": ("motor_pushed_out",),
    "retention": ("retainer_overhang",),
    "aft_anchor_n": ("snatch_anchor",),
    "edge_strength_pa": ("zipper",),
    "bulkhead_n": ("charge_strong",),
    "fixed_joint_n": ("nose_jerked",),
    "blanket_m2": ("canopy_scorched",),
}  # fmt: skip


@pytest.mark.parametrize("name", NOTHING)
def test_a_figure_left_out_is_unknown_with_advice(name: str) -> None:
    found = ledger_of(separation(base(), **{name: None}), 40, 1, remedies=False)
    rows = {row.key: row for row in found.rows}
    for key in NOTHING[name]:
        assert rows[key].state == "unknown", key
        assert len(rows[key].advice) > 20
    assert found.state != "ok"


def test_a_motor_without_its_charge_is_unknown_and_names_the_motor() -> None:
    case = base()
    rows = rows_of(replace(case, motor=replace(case.motor, charge_kg=None)), 20)
    for key in ("separation_shut", "charge_strong", "motor_pushed_out", "snatch_cord", "zipper"):
        assert case.motor.name in rows[key].missing


def test_own_powder_counts_by_altimeter_only() -> None:
    case = within(base(), "deployment", by=registry.BY_ALTIMETER)
    assert rows_of(case, 20)["separation_shut"].known
    assert rows_of(separation(case, powder_kg=None), 20)["separation_shut"].missing
    assert rows_of(separation(base(), powder_kg=None), 20)["separation_shut"].known


def test_more_powder_opens_and_breaks_more() -> None:
    case = base()
    much = replace(case, motor=replace(case.motor, charge_kg=0.003))
    few, many = rows_of(case, 50), rows_of(much, 50)
    for key in ("separation_shut", "charge_strong", "motor_pushed_out", "snatch_cord"):
        assert np.nanmedian(many[key].demand) > np.nanmedian(few[key].demand), key


def test_wadding_an_aft_coupler_and_one_canopy_make_rows_that_do_not_concern_this_rocket() -> None:
    rows = rows_of(separation(base(), wadding=True, blanket_m2=None, coupler_in="aft"), 20)
    for key in ("canopy_scorched", "zipper", "main_opening", "drogue_speed"):
        assert rows[key].known
        assert np.isnan(rows[key].demand).all()
        assert str(rows[key].warnings[0]).startswith("not here: ")


def test_clips_want_six_to_thirteen_millimetres_of_motor() -> None:
    case = separation(base(), retention="clips")
    assert rows_of(case, 20)["retainer_overhang"].failing.all()
    tube = next(p for p in case.rocket.parts if isinstance(p, MotorTube))
    good = part(case, tube.name, length_m=tube.length_m - 0.009)
    assert not rows_of(good, 20)["retainer_overhang"].failing.any()


def test_the_bay_says_how_long_it_should_be() -> None:
    stack = stack_of(base())
    assert not isinstance(stack, str)
    told = str(_base_rows()["gear_fits"].warnings[1])
    assert f"{1e3 * stack.wanted_m:.0f} mm long" in told


def test_spin_limit_is_said_in_degrees_and_millimetres() -> None:
    told = str(_base_rows()["spin_pitch"].warnings[1])
    assert " deg, " in told
    assert "mm at the tip's trailing edge" in told


def test_pins_hold_beside_the_tape() -> None:
    tight = rows_of(separation(base(), pins=2, pin_thread="#2-56"), 20)
    assert np.median(tight["separation_shut"].capacity) == pytest.approx(32.0 + 224.8, abs=3.0)


def test_every_change_is_for_rows_that_exist_and_lowers_one_of_them() -> None:
    keys = {row.key for row in LIMIT_STATES}
    for lever in LEVERS:
        assert set(lever.helps) <= keys, lever.key
    loose = given("pull_n", 12.0)(base())
    tighter = next(c for c in tried(loose, {}).changes if c.key == "pull=17")
    before, after = (rows_of(c)["separation_handled"] for c in (loose, tighter.case))
    assert after.failing.mean() < before.failing.mean()


def test_the_sample_has_the_parts_these_rows_ask_for() -> None:
    kinds = {type(each) for each in base().rocket.parts}
    assert {Bay, Coupler, Cord} <= kinds


def test_a_lined_edge_is_written_where_it_counts() -> None:
    """A stated strength goes before the kind of edge."""
    for by_kind, text in ((True, "kraft_lined"), (False, "30 MPa")):
        figure = Figure(20e6, 8e6, "guess", path := "rocket.toml:any", by_kind)
        case = separation(base(), edge_strength_pa=figure)
        change = next(c for c in tried(case, {}).changes if c.key == "edge=lined")
        assert change.setting.writes == ((path, text),)


def zippers(case: Case, speed_m_s: float) -> float:
    """Share of flights whose edge is slit when all are ejected level at one air speed."""
    flown = fly_trials(case, 400, 1)
    outcomes = flown.outcomes.copy()
    outcomes[:, registry.OUTCOME_INDEX["ejection_m_s"]] = speed_m_s
    outcomes[:, registry.OUTCOME_INDEX["ejection_climb_m_s"]] = 0.0
    outcomes[:, registry.OUTCOME_INDEX["status"]] = 0.0
    zipper = next(row for row in cord.ROWS if row.key == "zipper")
    (found,) = evaluate(View(case, flown.trials, outcomes), [zipper])
    return float(found.failing.mean())


def test_the_zipper_grows_with_the_speed_at_ejection() -> None:
    """Near the apogee a few in 100 at most, at 46 m/s far more: the order that practice reports."""
    case = separation(base(), edge_strength_pa=Figure(15e6, 5e6), pull_n=Figure(32.0, 1.0))
    slow, fast, faster = (zippers(case, speed) for speed in (5.0, 28.0, 46.0))
    assert slow < fast < faster


def test_more_powder_never_slits_fewer_edges() -> None:
    case = separation(base(), edge_strength_pa=Figure(15e6, 5e6), pull_n=Figure(32.0, 1.0))
    shares = []
    for times in (0.7, 1.0, 1.5, 2.0):
        motor = replace(case.motor, charge_kg=times * case.motor.charge_kg)
        shares.append(zippers(replace(case, motor=motor), 8.0))
    assert shares == sorted(shares)
    assert shares[-1] > shares[0]


def test_the_main_canopy_has_a_spread_of_its_own() -> None:
    """Twice the main's spread scatters the landing speed more, whatever the first canopy's is."""
    first, second = (p for p in base().rocket.parts if isinstance(p, Canopy))
    spreads = []
    for sigma in (0.02, 0.2):
        main = replace(first, drag_coefficient_sigma=sigma)
        case = within(
            base(),
            "deployment",
            by=registry.BY_ALTIMETER,
            canopy=second,
            main_canopy=main,
            main_height_m=200.0,
        )
        landed = fly_trials(case, 100, 1).outcome("descent_m_s")
        spreads.append(float(np.nanstd(landed)))
    assert spreads[1] > 2.0 * spreads[0]


def test_an_altimeter_without_a_vent_opens_nothing() -> None:
    sealed = part(base(), "logger bay", vent_count=0)
    case = within(sealed, "deployment", by=registry.BY_ALTIMETER)
    opens = next(row for row in LIMIT_STATES if row.key == "nothing_opens")
    (found,) = evaluate(fly_trials(case, 40, 1), [opens])
    assert found.failing.all()
