"""Ground tests: the figure to reach against tables of the normal distribution, words, paper."""

from dataclasses import replace
from statistics import NormalDist
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from goodflight.outputs.field_sheets.ground_pdf import ground_pdf
from goodflight.physics.vehicle.parts import Bulkhead, Coupler, Nose
from goodflight.project import Project
from goodflight.studies.case.project_case import case_of
from goodflight.studies.evidence.seen import Seen, see
from goodflight.studies.lists import ground, ground_table
from goodflight.studies.questions.measurable import measurable

pdfium = pytest.importorskip("pypdfium2")


@pytest.fixture(scope="module")
def seen(demo: Project) -> Seen:
    return see(demo, case_of(demo), 200, 1)


def row(demand: Any, capacity: Any) -> Any:
    return SimpleNamespace(demand=demand, capacity=capacity)


MANY = (np.arange(10000) + 0.5) / 10000
SHARES = np.array([NormalDist().inv_cdf(each) for each in MANY])
SEEN: Any = SimpleNamespace(median=np.median)


def test_a_strength_to_reach_leaves_one_flight_in_a_hundred() -> None:
    """100 N against 200 N with a standard deviation of 20 N: a copy k times as strong fails on 1 in
    100 where k (200 - 2.3263 x 20) = 100, k = 0.65159, a strength of 130.32 N (2.3263: the 1 %
    point of the normal distribution, any table)."""
    found = ground_table._strength(SEEN, (row(np.full(10000, 100.0), 200.0 + 20.0 * SHARES),))
    assert found.reach.figures["reach"][0] == pytest.approx(130.32, abs=0.05)
    assert found.reach.figures["reach_kg"][0] == pytest.approx(130.32 / 9.80665, abs=0.01)
    assert found.beside.figures["taken"][0] == pytest.approx(200.0, abs=0.01)


def test_what_a_flight_asks_is_the_demand_of_95_in_100() -> None:
    """Mean 40 N, standard deviation 10 N: 40 + 1.6449 x 10 = 56.45 N (5 % point, any table)."""
    found = ground_table._proof(SEEN, (row(40.0 + 10.0 * SHARES, np.full(10000, 90.0)),))
    assert found.reach.figures["asked"][0] == pytest.approx(56.45, abs=0.05)


def test_a_strength_that_nothing_asks_for_has_no_figure() -> None:
    """A nose that is given no mass is jerked by nothing: no "holds 0 N or more"."""
    assert ground_table._strength(SEEN, (row(np.zeros(9), np.full(9, 700.0)),)) is None


def test_bulkhead_and_joint_are_told_apart_where_the_gas_stands_on_the_nose(seen: Seen) -> None:
    """The row takes what is used further of the two; each test has the strength of its own part."""
    plan = seen.case
    parts = tuple(
        replace(part, bulkheads=False) if isinstance(part, Coupler) else part
        for part in plan.rocket.parts
        if not isinstance(part, Bulkhead)
    )
    flown = replace(plan, rocket=replace(plan.rocket, parts=parts))
    bare = see(seen.project, flown, 200, 1)
    found = {each.key: each for each in ground.tests_of(bare).tests}
    held = plan.rocket.separation
    assert held.bulkhead_n is not None and held.fixed_joint_n is not None
    for key, figure in (("bulkhead", held.bulkhead_n), ("fixed", held.fixed_joint_n)):
        taken = found[key].beside.figures["taken"][0]
        assert taken == pytest.approx(figure.value, rel=0.03)  # the middle of 200 drawn ones
    assert found["fixed"].rows == ("nose_jerked", "charge_strong")
    whole = {each.key: each for each in ground.tests_of(seen).tests}
    assert whole["fixed"].rows == ("nose_jerked",)  # a bulkhead takes the gas


def test_the_bulkhead_does_not_wait_for_what_the_nose_weighs(seen: Seen) -> None:
    """The gas pushes on it whatever the nose weighs: the figure of the demo, whose nose is known.

    The joint that the gas would tear off does wait, and so does their row: unknown is never ok.
    """
    plan = seen.case
    parts = tuple(
        replace(part, bulkheads=False)
        if isinstance(part, Coupler)
        else replace(part, mass_kg=0.0)
        if isinstance(part, Nose)
        else part
        for part in plan.rocket.parts
        if not isinstance(part, Bulkhead)
    )
    flown = replace(plan, rocket=replace(plan.rocket, parts=parts))
    lost = {each.key: each for each in ground.tests_of(see(seen.project, flown, 200, 1)).tests}
    same = {each.key: each for each in ground.tests_of(see(seen.project, plan, 200, 1)).tests}
    assert lost["bulkhead"].reach == same["bulkhead"].reach
    assert lost["bulkhead"].state == lost["fixed"].state == "unknown"
    assert lost["fixed"].reach.told() == "" and "weigh" in lost["fixed"].do


def test_of_two_rows_the_one_that_asks_most_sets_the_strength() -> None:
    """100 N of 200 N, and 90 N of 120 N: 0.75 of the second, 90 N; the first needs half of its."""
    rows = tuple(row(np.full(9, d), np.full(9, c)) for d, c in ((100.0, 200.0), (90.0, 120.0)))
    found = ground_table._strength(SEEN, rows)
    assert found.reach.figures["reach"][0] == pytest.approx(90.0)


def test_what_was_read_can_be_entered_under_the_name_on_the_paper(
    demo: Project, seen: Seen
) -> None:
    known = {each.of for each in measurable(demo)}
    named = [w.split()[3] for each in ground.tests_of(seen).tests for w in each.write]
    assert len(named) > 9 and set(named) <= known


def test_a_row_that_is_not_known_has_no_figure_and_says_what_to_do(seen: Seen) -> None:
    lost = replace(seen.rows["guides"], chance=None, state="unknown", advice="hang weights on one")
    found = ground.tests_of(replace(seen, rows={"guides": lost})).tests
    assert [each.key for each in found] == ["guides"]  # tests of rows it does not have: none
    assert found[0].reach.told() == "" and found[0].do == "hang weights on one"
    assert found[0].state == "unknown"


def test_the_fin_is_pushed_by_its_load_at_the_root_over_its_span(seen: Seen) -> None:
    """The demo's fins reach 80 mm out (its rocket.toml): a moment of M is a push of M / 0.08."""
    rows = [seen.rows[key] for key in ("fin_root", "fin_bond")]
    moment = max(float(np.percentile(each.demand, 95)) for each in rows)
    found = next(each for each in ground.tests_of(seen).tests if each.key == "fins")
    assert found.reach.figures["asked"][0] == pytest.approx(moment / 0.080)


@pytest.mark.parametrize(
    ("paper", "units", "unit"), [("a4", "metric", "N"), ("letter", "imperial", "lbf")]
)
def test_the_sheet_has_every_test_its_readings_and_the_care_for_powder(
    seen: Seen, paper: str, units: str, unit: str
) -> None:
    found = ground.tests_of(seen)
    document = pdfium.PdfDocument(ground_pdf(found, paper, ("made 2026-10-01",), units))
    words = " ".join(" ".join(p.get_textpage().get_text_range().split()) for p in document)
    words = words.replace("\u00a0", " ")
    for each in found.tests:
        assert each.title in words and each.reach.told(units) in words
    for told in (
        "Only where the law, the site and your own permission allow it",
        "Nobody in line with nose or tail", "A motor is never fired for it",
        "Handle black powder only where the law", f"{unit} weigh DIR --of separation.pull --read",
    ):  # fmt: skip
        assert told in words
    assert len(document) <= 3
