"""Every row driven over its limit by one changed input, and what a missing figure does.

The case is the invented sample; the numbers asserted are directions and states, not values.
"""

import math
from collections.abc import Callable
from dataclasses import replace
from functools import cache
from importlib import import_module
from pathlib import Path

import numpy as np
import pytest

from goodflight.outputs.ledger.basis_words import formula
from goodflight.physics.flight import registry
from goodflight.physics.vehicle.figure import Figure
from goodflight.physics.vehicle.part import Material
from goodflight.physics.vehicle.parts import (
    Buttons,
    Canopy,
    Cord,
    Fins,
    MotorTube,
    Nose,
    Ring,
    Tube,
)
from goodflight.project.head.hatch import Hatch
from goodflight.project.outlines import KINDS
from goodflight.studies.case.codes import CODE_SETS
from goodflight.studies.case.planned import Case
from goodflight.studies.judging.evaluate import Evaluated, evaluate
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.rows import LIMIT_STATES, main_cord, retention
from goodflight.studies.rows import cord as cord_rows
from goodflight.studies.rows import damp as damp_rows
from goodflight.studies.rows import dual as dual_rows
from goodflight.studies.rows import gear as gear_rows
from goodflight.studies.rows import second as second_rows
from goodflight.studies.rows import separation as separation_rows
from goodflight.studies.rows import spin as spin_rows
from goodflight.studies.sampling.flights import fly_trials
from one_flight import with_part as part
from sample_case import sample_case, within

FLIGHTS = 200


def base() -> Case:
    case = sample_case(1.0)
    return within(case, "rail", tilt_rad=0.0)


@cache
def _base_rows() -> dict[str, Evaluated]:
    return {row.limit.key: row for row in evaluate(fly_trials(base(), FLIGHTS, 2))}


def day(case: Case, **changes: float | None) -> Case:
    return replace(case, day=replace(case.day, **changes))  # type: ignore[arg-type]


def site(case: Case, **changes: object) -> Case:
    return replace(case, site=replace(case.site, **changes))  # type: ignore[arg-type]


def tail_heavy(case: Case) -> Case:
    masses = {"payload", "ballast", "recovery bay", "nose"}
    items = tuple(
        replace(item, station_m=1.15) if item.name in masses else item for item in case.items
    )
    return replace(case, items=items)


def heavy(case: Case) -> Case:
    items = tuple(replace(item, mass_kg=5.0 * item.mass_kg) for item in case.items)
    return replace(case, items=items)


def windy(case: Case, wind_m_s: float) -> Case:
    return day(case, wind_m_s=wind_m_s)


def deny(key: str) -> Callable[[Case], Case]:
    return lambda case: within(case, "plan_says", denied=[key])


def bench(case: Case, **changes: object) -> Case:
    return replace(case, workshop=replace(case.workshop, **changes))  # type: ignore[arg-type]


def joint(case: Case, **changes: object) -> Case:
    """The case with its first glue joint changed."""
    first, *others = case.workshop.joints
    return bench(case, joints=(replace(first, **changes), *others))  # type: ignore[arg-type]


def coat(case: Case, **changes: object) -> Case:
    (only,) = case.workshop.coats
    return bench(case, coats=(replace(only, **changes),))  # type: ignore[arg-type]


def device(case: Case, **changes: object) -> Case:
    (only,) = case.deployment.devices
    return within(case, "deployment", devices=(replace(only, **changes),))  # type: ignore[arg-type]


def weak(case: Case, kind: type, strength_pa: float) -> Case:
    """The case with the first part of a kind made of something weak."""
    return part(case, kind, material=Material("weak", 100.0, bending_strength_pa=strength_pa))


def under(kind: str) -> Callable[[Case], Case]:
    return lambda c: site(c, keep_outs_m=(("all", c.site.outline_m),), keep_out_kinds=(kind,))


def unmapped(case: Case) -> Case:
    return within(site(case, keep_outs_m=(), keep_out_kinds=()), "field_says", not_there=[])


OVER: dict[str, Callable[[Case], Case]] = {
    "hatch_off": lambda c: replace(
        c, rocket=replace(c.rocket, hatch=Hatch(True, 0.3, 0.08, 0.04, Figure(0.5)))
    ),
    "membership": lambda c: within(
        within(c, "plan_says", member_until="2026-10-09"), "workshop", launch_day="2026-10-10"
    ),
    "fin_root": lambda c: weak(c, Fins, 0.3e6),
    "fin_bond": lambda c: joint(c, stays=(replace(c.workshop.joints[0].stays[0], hours=0.05),)),
    "thrust_ring": lambda c: part(c, Ring, thickness_m=0.0002),
    "anchor": lambda c: part(c, Ring, thickness_m=0.00002),
    "guides": lambda c: part(c, Buttons, strength_n=1.0),
    "rail_fit": lambda c: part(c, Buttons, made_for="40 mm, slot 8 mm"),
    "guides_stick": lambda c: part(c, Buttons, aft_station_m=0.905),
    "fin_strike": lambda c: part(
        c, Fins, outline_m=((0.0, 0.0), (0.40, 0.20), (0.43, 0.20), (0.03, 0.0))
    ),
    "tail_strike": lambda c: weak(c, Tube, 0.5e6),
    "nose_strike": lambda c: weak(c, Nose, 0.5e6),
    "cure": lambda c: joint(c, stays=(replace(c.workshop.joints[0].stays[0], hours=48.0),)),
    "glue_cold": lambda c: joint(c, min_k=285.15),
    "working_time": lambda c: joint(c, work_s=14400.0),
    "paint_dew": lambda c: coat(c, humidity=0.95),
    "recoat": lambda c: coat(c, interval_s=1800.0),
    "alignment": lambda c: within(c, "uncertainty", cant_sigma_rad=math.radians(4.0)),
    "closed_in": lambda c: bench(c, early=(("glue the bulkhead", "nose ballast"),)),
    "fasteners": lambda c: bench(c, checks=(("U-bolt nuts", "loose"),)),
    "battery": lambda c: device(c, run_s=1800.0),
    "recording": lambda c: device(c, recording_s=1800.0),
    "airport": lambda c: within(
        within(c, "field_says", airport="3000 m"), "plan_says", confirmed=[]
    ),
    "night": deny("night"),
    "visibility": deny("visibility"),
    "airspace": deny("airspace"),
    "notice": deny("notice"),
    "permission": deny("permission"),
    "responsible": deny("responsible"),
    "fire": deny("fire"),
    "liftoff_mass": lambda c: replace(c, motor=replace(c.motor, max_liftoff_kg=0.5)),
    "motor_room": lambda c: replace(c, motor=replace(c.motor, length_m=0.9)),
    "thrust_to_weight": heavy,
    "rail_exit": lambda c: windy(c, 9.0),
    "margin_small": tail_heavy,
    "margin_gust": tail_heavy,
    "flutter": lambda c: within(
        c, "uncertainty", features={**c.uncertainty.features, "flutter_m_s": 80.0}
    ),
    "model_range": lambda c: windy(c, 14.0),
    "weathercock": lambda c: within(c, "rail", tilt_rad=math.radians(25.0)),
    "ceiling": lambda c: site(c, ceiling_m=300.0),
    "too_early": lambda c: within(c, "deployment", delay_out_s=7.0),
    "too_late": lambda c: replace(c, motor=replace(c.motor, delay_s=16.0)),
    "nothing_opens": lambda c: replace(c, motor=replace(c.motor, delay_s=40.0)),
    "opening_cord": lambda c: part(c, Cord, strength_n=60.0),
    "opening_canopy": lambda c: part(c, Canopy, line_strength_n=10.0),
    "landing_speed": lambda c: part(c, Canopy, across_m=0.5),
    "off_field": lambda c: site(
        c, outline_m=((-20.0, -20.0), (20.0, -20.0), (20.0, 20.0), (-20.0, 20.0))
    ),
    "keep_out": lambda c: site(c, keep_outs_m=(("crop", c.site.outline_m),)),
    **{f"on_{kind}": under(kind) for kind in KINDS},
    "nose_by_fins": lambda c: part(c, Cord, canopy_at_m=2.9),
    "lost_from_sight": lambda c: replace(
        c, tables=replace(c.tables, scalars=0.05 * c.tables.scalars)
    ),
    "battery_reserve": lambda c: within(c, "deployment", pad_wait_s=5400.0),
    "motor_class": lambda c: within(c, "rules", level="none"),
    "code_thrust": heavy,
    "rail_angle": lambda c: within(c, "rail", tilt_rad=math.radians(25.0)),
    "wind_limit": lambda c: windy(c, 12.0),
    "property_distance": lambda c: within(c, "field_says", people="300 m"),
    "crew_distance": lambda c: within(c, "field_says", spectators="20 m"),
    "unopened_reach": lambda c: site(c, people_areas_m=(("camp", c.site.outline_m),)),
    "site_size": lambda c: site(
        c, outline_m=((-200.0, -200.0), (200.0, -200.0), (200.0, 200.0), (-200.0, 200.0))
    ),
    "cloud_base": lambda c: day(c, cloud_base_m=300.0),
    "cloud_cover": lambda c: day(c, cloud_cover_tenths=7.0),
}
# of the others it stands beside their values worked out by hand
VALUES = Path(__file__).parents[1] / "rows"
for _path in sorted(VALUES.glob("test_*_values.py")):
    OVER |= getattr(import_module(f"rows.{_path.stem}"), "OVER", {})


def test_every_row_has_a_way_over_its_limit() -> None:
    modules = (
        separation_rows, retention, cord_rows, damp_rows, gear_rows, spin_rows, dual_rows,
        second_rows, main_cord,
    )  # fmt: skip
    elsewhere = {row.key for each in modules for row in each.ROWS}
    assert set(OVER) | elsewhere == {limit.key for limit in LIMIT_STATES}


@pytest.mark.parametrize("key", sorted(OVER))
def test_one_changed_input_drives_the_row_over(key: str) -> None:
    before = _base_rows()[key].failing.mean()
    after = {r.limit.key: r for r in evaluate(fly_trials(OVER[key](base()), FLIGHTS, 2))}[key]
    assert before < 0.2
    assert after.failing.mean() > 0.5


def _without_lines(case: Case) -> Case:
    return part(case, Canopy, line_count=0, line_strength_n=None, strength_n=None)


MISSING: dict[str, Callable[[Case], Case]] = {
    "flutter": lambda c: within(
        c, "uncertainty", features={**c.uncertainty.features, "flutter_m_s": 0.0}
    ),
    "fin_root": lambda c: part(c, Fins, material=None),
    "thrust_ring": lambda c: part(c, MotorTube, outer_diameter_m=0.060),
    "guides": lambda c: part(c, Buttons, strength_n=None),
    "rail_fit": lambda c: part(c, Buttons, made_for=""),
    "fin_strike": lambda c: part(c, Fins, material=None),
    "tail_strike": lambda c: part(c, Tube, material=None),
    "nose_strike": lambda c: part(c, Nose, material=None),
    "cure": lambda c: joint(c, cure_h=None),
    "glue_cold": lambda c: joint(c, stays=()),
    "working_time": lambda c: joint(c, work_s=None),
    "paint_dew": lambda c: coat(c, humidity=None),
    "recoat": lambda c: coat(c, interval_s=None),
    "alignment": lambda c: bench(c, fin_limit_rad=None),
    "closed_in": lambda c: bench(c, early=None),
    "fasteners": lambda c: bench(c, checks=(("U-bolt nuts", "open"),)),
    "battery": lambda c: within(c, "deployment", pad_wait_s=None),
    "recording": lambda c: within(c, "deployment", devices=()),
    "battery_reserve": lambda c: within(c, "deployment", pad_wait_s=None),
    "airport": lambda c: within(within(c, "plan_says", confirmed=[]), "field_says", airport=None),
    "visibility": lambda c: within(c, "plan_says", confirmed=[]),
    "notice": lambda c: within(within(c, "plan_says", confirmed=[]), "rules", code=None),
    "night": lambda c: within(within(c, "plan_says", confirmed=[]), "rules", code=CODE_SETS["uk"]),
    "rail_angle": lambda c: within(c, "rules", code=CODE_SETS["germany"]),
    "ceiling": lambda c: site(c, ceiling_m=None),
    "liftoff_mass": lambda c: replace(c, motor=replace(c.motor, max_liftoff_kg=None)),
    "opening_cord": lambda c: part(c, Cord, strength_n=0.0),
    "opening_canopy": _without_lines,
    "off_field": lambda c: site(c, outline_m=()),
    "keep_out": lambda c: site(c, keep_outs_m=()),
    **{f"on_{kind}": unmapped for kind in KINDS},
    "motor_class": lambda c: within(c, "rules", level=""),
    "property_distance": lambda c: within(c, "field_says", people=None),
    "crew_distance": lambda c: within(c, "field_says", spectators=None),
    "unopened_reach": lambda c: within(c, "field_says", people=None),
    "wind_limit": lambda c: within(c, "rules", code=None),
    "cloud_base": lambda c: day(c, cloud_base_m=None),
    "cloud_cover": lambda c: day(c, cloud_cover_tenths=None),
}


@pytest.mark.parametrize("key", sorted(MISSING))
def test_a_missing_figure_is_unknown_with_advice_and_never_ok(key: str) -> None:
    found = ledger_of(MISSING[key](base()), 40, 1, remedies=False)
    row = next(row for row in found.rows if row.key == key)
    assert row.state == "unknown"
    assert row.chance is None
    assert len(row.advice) > 20
    assert found.state != "ok"


def test_a_plugged_motor_with_a_delay_plan_opens_nothing() -> None:
    case = base()
    case = replace(case, motor=replace(case.motor, delay_s=None))
    rows = {row.limit.key: row for row in evaluate(fly_trials(case, 40, 1))}
    assert rows["nothing_opens"].failing.all()


def test_an_altimeter_does_not_care_for_the_delay() -> None:
    case = within(base(), "deployment", by=registry.BY_ALTIMETER, delay_out_s=7.0)
    rows = {row.limit.key: row for row in evaluate(fly_trials(case, 100, 1))}
    assert rows["too_early"].failing.mean() < 0.05


def test_a_row_that_does_not_apply_holds_nan_and_does_not_fail() -> None:
    case = replace(base(), motor=replace(base().motor, delay_s=80.0))
    row = {r.limit.key: r for r in evaluate(fly_trials(case, 40, 1))}["landing_speed"]
    assert np.isnan(row.demand).all()
    assert not row.failing.any()


def test_a_rocket_that_never_leaves_the_rail_fails_for_want_of_thrust_only() -> None:
    case = base()
    motor = replace(case.motor, thrusts_n=tuple(0.05 * t for t in case.motor.thrusts_n))
    rows = evaluate(fly_trials(replace(case, motor=motor), 40, 1))
    failing = {row.limit.key for row in rows if row.failing.any()}
    assert failing == {"thrust_to_weight"}
    assert next(row for row in rows if row.limit.key == "thrust_to_weight").failing.all()


def test_every_row_says_what_it_stands_on() -> None:
    for limit in LIMIT_STATES:
        assert limit.formula
        assert limit.sources
        assert limit.title


def test_what_a_code_does_not_state_is_said_so() -> None:
    case = within(within(base(), "rules", code=CODE_SETS["uk"]), "plan_says", confirmed=[])
    rows = {row.key: row for row in ledger_of(case, 40, 1, remedies=False).rows}
    for key in ("rail_angle", "wind_limit", "site_size", "night", "visibility"):
        assert rows[key].state == "unknown"
        assert rows[key].advice.startswith("not stated in the code set 'uk'")
    assert rows["airspace"].advice.startswith("to confirm: airspace clear")


def test_the_field_grows_with_the_height_where_the_code_says_so() -> None:
    """Canada: 500 m up to 3000 ft, 1 km up to 6000 ft (national code text, seen)."""
    case = within(base(), "rules", code=CODE_SETS["canada"])
    low = {row.limit.key: row for row in evaluate(fly_trials(case, 40, 1))}["site_size"]
    assert (low.capacity == 500.0).all()
    high = replace(
        case, motor=replace(case.motor, thrusts_n=tuple(2 * t for t in case.motor.thrusts_n))
    )
    row = {row.limit.key: row for row in evaluate(fly_trials(high, 40, 1))}["site_size"]
    assert (row.capacity >= 1000.0).all()
    assert row.failing.all()


def test_glue_that_is_not_solid_holds_nothing_and_then_all() -> None:
    """The fins' bond waits for the glue to be solid; the root, which is wood, does not."""
    case, stay = base(), base().workshop.joints[0].stays[0]
    rows = {}
    for hours in (30.0, 400.0, 800.0):
        changed = joint(case, stays=(replace(stay, hours=hours, sigma_k=0.0),))
        rows[hours] = {r.limit.key: r for r in evaluate(fly_trials(changed, 40, 1))}
    bonds = {hours: each["fin_bond"].capacity for hours, each in rows.items()}
    assert bonds[400.0] / bonds[30.0] == pytest.approx(1000.0)
    assert np.array_equal(bonds[400.0], bonds[800.0])
    assert np.array_equal(rows[400.0]["fin_root"].capacity, rows[30.0]["fin_root"].capacity)


def test_every_figure_of_a_formula_is_told_with_its_source() -> None:
    """No {name} is left open in any row of the sample, in either system of units."""
    view = fly_trials(base(), 20, 1)
    for row in evaluate(view):
        for units in ("metric", "imperial"):
            told = formula(row.basis, units)
            assert "{" not in told and "not stated" not in told, (row.limit.key, told)
        assert row.basis.sources and all(row.basis.sources)
        assert all(figure.source for figure in row.basis.figures.values())
