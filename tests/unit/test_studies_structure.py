"""Structure, touch-down and workshop: geometry by hand, remedies, the records behind the rows."""

import math
from dataclasses import replace

import numpy as np
import pytest

from goodflight.physics.structure import fin_touch_tilt_rad
from goodflight.physics.vehicle.part import Material
from goodflight.physics.vehicle.parts import Buttons, Fins
from goodflight.project import read_project
from goodflight.project.demo import demo_files
from goodflight.studies.case.planned import Case
from goodflight.studies.case.workshop import devices_of, workshop_of
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.judging.flown import Flown
from goodflight.studies.judging.remedies import remedy_of
from goodflight.studies.levers.whatif import tried
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.sampling.flights import fly_trials
from sample_case import sample_case, within

OUTLINE = ((0.0, 0.0), (0.07, 0.08), (0.13, 0.08), (0.15, 0.0))


def test_what_touches_first_by_hand() -> None:
    """Corner 30 mm ahead of the tail and 80 mm outside it: atan(30/80) = 20.556 deg (by hand)."""
    tilt, outward = fin_touch_tilt_rad(OUTLINE, 1.06, 0.0395, 1.22, 0.0395)
    assert math.degrees(float(tilt)) == pytest.approx(20.556, abs=1e-3)
    assert float(outward) == 0.08


def test_a_fin_behind_the_tail_touches_at_no_tilt() -> None:
    tilt, _ = fin_touch_tilt_rad(OUTLINE, 1.12, 0.0395, 1.22, 0.0395)
    assert float(tilt) == 0.0


def test_a_fin_turned_away_touches_later_or_never() -> None:
    rolls = np.radians([0.0, 30.0, 60.0, 90.0])
    tilt, _ = fin_touch_tilt_rad(OUTLINE, 1.06, 0.0395, 1.22, 0.0395, rolls)
    assert (np.diff(tilt) > 0.0).all()
    # at 60 deg the corner stands (39.5 + 80) / 2 - 39.5 = 20.25 mm outside: atan(30 / 20.25)
    assert math.degrees(float(tilt[2])) == pytest.approx(math.degrees(math.atan2(30, 20.25)))
    assert float(tilt[3]) == pytest.approx(math.pi / 2)


def _joint(case: Case, **changes: object) -> Case:
    first, *others = case.workshop.joints
    joints = (replace(first, **changes), *others)  # type: ignore[arg-type]
    return replace(case, workshop=replace(case.workshop, joints=joints))


def _short(case: Case, hours: float) -> Case:
    return _joint(case, stays=(replace(case.workshop.joints[0].stays[0], hours=hours),))


def _weak_fins(case: Case) -> Case:
    weak = Material("weak ply", 680.0, shear_modulus_pa=0.62e9, bending_strength_pa=0.4e6)
    parts = tuple(
        replace(part, material=weak) if isinstance(part, Fins) else part
        for part in case.rocket.parts
    )
    return replace(case, rocket=replace(case.rocket, parts=parts))


def _guides_close(case: Case) -> Case:
    """The rear guide 15 mm behind the forward one."""
    parts = tuple(
        replace(part, aft_station_m=part.station_m + 0.015) if isinstance(part, Buttons) else part
        for part in case.rocket.parts
    )
    return replace(case, rocket=replace(case.rocket, parts=parts))


STRUCTURE = ("fillets", "fin_sheet", "ring_added", "ring_thick", "guides", "tail_edge")
HELPED = {
    "cure": (lambda c: _short(c, 60.0), "warm_cure", "evening"),
    "glue_cold": (lambda c: _joint(c, min_k=283.15), "warm_glue", "evening"),
    "working_time": (lambda c: _joint(c, work_s=9000.0), "glue_halves", "free"),
    "fin_bond": (lambda c: _short(c, 0.1), "warm_cure", "evening"),
    "battery": (lambda c: within(c, "deployment", pad_wait_s=6000.0), "switch_on", "free"),
    "fin_root": (_weak_fins, "fin_sheet", "purchase"),
    "fasteners": (
        lambda c: replace(c, workshop=replace(c.workshop, checks=(("nuts", "loose"),))),
        "tighten",
        "minutes",
    ),
    "closed_in": (
        lambda c: replace(c, workshop=replace(c.workshop, early=(("plate glued", "ballast"),))),
        "fit_first",
        "free",
    ),
    "notice": (lambda c: within(c, "plan_says", denied=["notice"]), "meet_notice", "another_day"),
    "crew_distance": (lambda c: within(c, "field_says", spectators="20 m"), "people_back", "free"),
    "guides_stick": (_guides_close, "guide_aft", "minutes"),
    "cloud_cover": (
        lambda c: replace(c, day=replace(c.day, cloud_cover_tenths=8.0)),
        "sky",
        "another_day",
    ),
    "alignment": (
        lambda c: within(c, "uncertainty", cant_sigma_rad=math.radians(1.5)),
        "alignment",
        "evening",
    ),
}


@pytest.mark.parametrize("key", sorted(HELPED))
def test_the_builder_can_do_something(key: str) -> None:
    change, remedy, cost = HELPED[key]
    found = ledger_of(change(sample_case(1.0)), 300, 1)
    row = next(row for row in found.rows if row.key == key)
    assert row.chance is not None and row.chance > 0.1
    listed = {each.key.split("=")[0]: each for each in row.remedies}
    assert remedy in listed
    assert listed[remedy].cost == cost
    assert listed[remedy].chance < listed[remedy].chance_before
    assert listed[remedy].change or remedy == "fit_first"  # an order of steps is changed by hand


def test_every_change_of_structure_names_the_rows_it_is_for() -> None:
    changes = [c for c in tried(sample_case(1.0), {}).changes if c.lever.key in STRUCTURE]
    # the sample's plywood is none of the list, so that no ring of it can be written
    assert {change.lever.key for change in changes} == {*STRUCTURE} - {"ring_added"}
    assert {change.cost for change in changes} <= {
        "free",
        "minutes",
        "evening",
        "purchase",
        "another_day",
    }
    assert all(change.lever.helps and change.setting.writes for change in changes)


def test_the_demo_workshop() -> None:
    project = read_project(demo_files())
    workshop = workshop_of(project)
    last = workshop.joints[-1]
    assert last.parts == ("fins", "motor tube", "main tube")
    assert [stay.place for stay in last.stays] == ["shed", "kitchen"]
    assert (last.cure_h, last.reference_k, last.min_k) == (24.0, 298.15, 278.15)
    assert workshop.early == ()
    assert workshop.fin_limit_rad == pytest.approx(math.radians(1.5))
    assert [device.name for device in devices_of(project)] == ["logger", "side camera"]


def test_a_part_closed_in_too_early_is_named() -> None:
    files = demo_files()
    files["build.toml"] += '\n[[step]]\nname = "links fitted late"\nfits = ["nose ballast"]\n'
    assert workshop_of(read_project(files)).early == (
        ("plate of the nose glued in", "nose ballast"),
    )


def test_without_a_build_file_the_rows_of_workmanship_wait() -> None:
    files = demo_files()
    del files["build.toml"]
    assert workshop_of(read_project(files)).joints == ()


def test_a_larger_canopy_lands_softer_and_drifts_further() -> None:
    """What it wins at landing it loses off the field; both stand in its effect."""
    view = fly_trials(sample_case(5.5), 600, 1)
    change = next(c for c in tried(view.case, {}).changes if c.key == "canopy_size=1.15")
    larger = Flown(view, evaluate(view), 1).effect(change)
    assert larger.after["landing_speed"] < larger.before["landing_speed"]
    assert larger.after["off_field"] > larger.before["off_field"]
    assert "off_field" in remedy_of("landing_speed", larger).worsens
