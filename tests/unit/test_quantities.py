"""Uncertain quantities are declared once, and everything else is made from the declaration."""

import math
import re
from dataclasses import replace
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest

from goodflight.outputs.ledger.input_words import asked, reason, value
from goodflight.physics.sources import cited
from goodflight.physics.vehicle.figure import Figure
from goodflight.project.defaults import SPREADS, sigma_of, spread_of
from goodflight.quantity import parse
from goodflight.quantity.units import dimension_of
from goodflight.studies.case.planned import Case
from goodflight.studies.judging.evaluate import evaluate
from goodflight.studies.results import Input
from goodflight.studies.rows import LIMIT_STATES, Missing, View
from goodflight.studies.rows.parting import hold_n
from goodflight.studies.sampling import air, airframe, model, motor, recovery, separation, structure
from goodflight.studies.sampling.declared import DECLARED, collected, factors_of, stated_of
from goodflight.studies.sampling.flights import fly_trials
from goodflight.studies.sampling.inputs import inputs_of
from goodflight.studies.sampling.quantity import (
    Family,
    Measured,
    NotGivenError,
    Quantity,
    Stated,
    UndeclaredError,
)
from goodflight.studies.sampling.spread import Even, Folded, Normal, Positive, Relative
from goodflight.studies.sampling.trials import make_trials, nominal
from sample_case import sample_case

ROOT = Path(__file__).parents[2]
ALL = list(DECLARED.values())
NOWHERE: dict[str, Any] = {
    "not_measurable": "made up for a test", "nature": "chance", "because": "guess",
    "reason": "made up",
}  # fmt: skip


def made_up(key: str = "made_up") -> Quantity:
    return Quantity(key, "made up", "ratio", Relative(0.1), **NOWHERE)


def module(**names: object) -> ModuleType:
    found = ModuleType("subject")
    vars(found).update(names)
    return found


@pytest.mark.parametrize("each", ALL, ids=[each.key for each in ALL])
def test_every_quantity_says_how_it_is_measured_or_why_not(each: Quantity | Family) -> None:
    assert (each.measured_by is None) != (not each.not_measurable)
    if each.measured_by is not None:
        assert each.measured_by.minutes > 0 and each.measured_by.error > 0
        assert each.measured_by.how and each.measured_by.instrument


@pytest.mark.parametrize("each", ALL, ids=[each.key for each in ALL])
def test_every_quantity_has_words_a_dimension_and_a_basis(each: Quantity | Family) -> None:
    assert each.label and each.reason
    if each.dimension not in ("ratio", "calibre"):
        dimension_of(each.dimension)
    assert cited(each.because)


def test_every_quantity_is_missing_knowledge_or_chance_from_flight_to_flight() -> None:
    """What nothing on the ground shows differs from flight to flight, and the other way round: no
    quantity whose own words speak of the flight is called knowledge. The motor's own scatter is
    chance, since the motor that is fired is another; strengths are one figure of this rocket."""
    assert {each.nature for each in ALL} == {"knowledge", "chance"}
    told = [each.key for each in ALL if "flight to flight" in each.not_measurable]
    told += [each.key for each in ALL if "landing to landing" in each.not_measurable]
    chance = {each.key for each in ALL if each.nature == "chance"}
    assert len(told) >= 5 and set(told) <= chance
    assert {"impulse", "delay", "wind", "gust_factor"} <= chance
    for each in ALL:
        if "strength" in each.label or each.not_measurable == model._FORMULA:
            assert each.nature == "knowledge", each.key
    with pytest.raises(TypeError, match="nature"):
        Quantity("x", "x", "ratio", Relative(0.1), because="guess", reason="x")  # type: ignore


def test_every_uncertain_figure_of_a_flight_is_measured_somehow_or_says_why_not() -> None:
    for factor in stated_of(sample_case(4.0)):
        assert (factor.measured_by is None) == bool(factor.why_not), factor.key
    figures = Family(
        "figure_x:",
        "{}",
        "length",
        Normal(0.1),
        "knowledge",
        "guess",
        "x",
        members=lambda case: (
            Stated(1.0, name="a", unmeasured="judged by eye"),
            Stated(1.0, name="b"),
        ),
        measured_by=Measured("look", 1.0, "eye", 0.01),
    )
    rough, other = figures.factors(sample_case())
    assert (rough.measured_by, rough.why_not) == (None, "judged by eye")
    assert other.measured_by is not None and other.why_not == ""


@pytest.mark.parametrize("each", ALL, ids=[each.key for each in ALL])
def test_measuring_narrows_an_assumed_spread(each: Quantity | Family) -> None:
    if each.measured_by is not None and each.spread.sigma > 0.0:
        assert each.measured_by.error < each.spread.sigma


def test_no_figure_called_measured_is_less_certain_than_the_same_guessed() -> None:
    for each in ALL:
        sigma = each.spread.sigma_of
        assert sigma("measured") <= sigma("label") <= sigma("guess")
    for kind, row in SPREADS.items():
        assert {"guess", "label", "measured"} <= row.keys(), kind
        for size in (1e-5, 0.0002, 0.0012, 0.01, 0.1, 1.0, 100.0, 1e6):
            by = {known: spread_of(kind, size, known) for known in row}
            assert 0.0 < by["measured"] <= by["label"] <= by["guess"], (kind, size)
    powder = parse("1.2 g measured", "mass")
    assert sigma_of("powder", powder) == pytest.approx(0.00004)  # twice a jewellery scale's 0.02 g
    assert sigma_of("powder", parse("1.2 g", "mass")) == pytest.approx(0.00012)
    # a figure of the project goes in by the name of its own kind, so that the table is read at all
    assert sigma_of("mass", parse("1.2 g measured", "mass")) == pytest.approx(0.0005)
    with pytest.raises(ValueError, match="known better"):
        Relative(0.1, measured=0.2)


def test_two_quantities_cannot_share_a_key_nor_look_like_a_member() -> None:
    with pytest.raises(ValueError, match="share the key 'made_up'"):
        collected((module(one=made_up(), two=made_up()),))
    family = Family("mass:", "{}", "mass", Positive(0.1), members=lambda case: (), **NOWHERE)
    with pytest.raises(ValueError, match="member of a family"):
        collected((module(family=family, one=made_up("mass:nose")),))
    with pytest.raises(ValueError, match="how it is measured, or why"):
        Quantity("x", "x", "ratio", Relative(0.1), "chance", "guess", "x")
    with pytest.raises(ValueError, match="how it is measured, or why"):
        way = Measured("look", 1.0, "eye", 0.1)
        Quantity("x", "x", "ratio", Relative(0.1), measured_by=way, **NOWHERE)


def test_an_undeclared_quantity_is_refused_and_a_missing_one_asks() -> None:
    case = sample_case()
    trials = make_trials(case, 20, 1)
    with pytest.raises(UndeclaredError):
        trials.of(made_up())
    with pytest.raises(UndeclaredError):  # the same key is not the same quantity
        trials.of(made_up("impulse"))
    with pytest.raises(UndeclaredError):
        trials.of(airframe.mass, "no such part")
    parts = replace(case.rocket.separation, pull_n=None)
    without = replace(case, rocket=replace(case.rocket, separation=parts))
    with pytest.raises(NotGivenError) as caught:
        make_trials(without, 20, 1).of(separation.pull)
    asked = caught.value.missing.asks[0]
    assert (asked.file, asked.place, asked.dimension) == ("rocket.toml", "separation.pull", "force")
    assert asked.instrument == "luggage scale" and asked.minutes == 10.0
    assert "luggage scale" in caught.value.missing.advice


def test_values_scatter_as_declared() -> None:
    """4000 stratified flights: mean within 0.5 %, standard deviation within 3 % of the figure."""
    trials = make_trials(sample_case(4.0), 4000, 1)
    pull = trials.of(separation.pull)  # 32 N, 2 N
    assert pull.mean() == pytest.approx(32.0, rel=0.005)
    assert pull.std() == pytest.approx(2.0, rel=0.03)
    heat = trials.of(separation.powder_heat)
    assert (heat.mean(), heat.std()) == (
        pytest.approx(1.0, rel=0.005),
        pytest.approx(0.155, rel=0.03),
    )
    tilt = trials.of(structure.touch_tilt)  # half-normal: mean sigma sqrt(2 / pi)
    assert tilt.mean() == pytest.approx(math.radians(12.0) * math.sqrt(2.0 / math.pi), rel=0.005)
    roll = trials.of(structure.touch_roll)  # even: mean 1/2, variance 1/12
    assert (roll.mean(), roll.std()) == (
        pytest.approx(0.5, rel=0.005),
        pytest.approx(12.0**-0.5, rel=0.03),
    )
    assert trials.of(air.wind).mean() == pytest.approx(4.0, rel=0.005)


def test_without_scores_every_quantity_is_at_its_middle() -> None:
    case = sample_case(4.0)
    middle = nominal(case)
    assert middle.of(air.wind)[0] == 4.0
    assert middle.of(motor.charge)[0] == case.motor.charge_kg
    assert middle.of(separation.gap)[0] == 0.0002  # not given: its own middle
    assert middle.of(recovery.main_strength)[0] == 1.0  # no main canopy in this flight
    assert middle.of(airframe.mass, "nose")[0] == 0.144


def test_kinds_of_spread() -> None:
    z = np.array([-20.0, -1.0, 0.0, 1.0])
    # the cut at a tenth lies 4.5 standard deviations off: 8 moves by less than 1e-4
    assert Positive(0.0).drawn(10.0, 2.0, z)[1:] == pytest.approx([8.0, 10.0, 12.0], abs=1e-4)
    assert Positive(0.0).drawn(10.0, 2.0, z)[0] > 0.0 < Relative(0.2).drawn(1.0, 0.2, z)[0]
    assert Relative(0.0).drawn(10.0, 2.0, z)[3] == pytest.approx(12.0)
    assert Folded(0.0).drawn(1.0, 2.0, z)[1] == 1.0
    assert Normal(0.0, low=0.0, high=0.6).drawn(0.5, 0.2, z).tolist() == [0.0, 0.3, 0.5, 0.6]
    assert Even(1.0).drawn(0.0, 1.0, z)[2] == 0.5


def test_columns_have_their_own_keys_and_are_those_with_a_spread() -> None:
    case = sample_case()
    keys = [factor.key for factor in factors_of(case)]
    assert len(keys) == len(set(keys)) > 100
    assert all(factor.sigma > 0.0 for factor in factors_of(case))
    assert set(keys) <= {factor.key for factor in stated_of(case)}


def test_every_declared_quantity_is_used() -> None:
    """A declaration that nothing reads would be a spread that moves nothing."""
    sources = [p for p in (ROOT / "src" / "goodflight" / "studies").rglob("*.py")]
    text = "\n".join(p.read_text("utf-8") for p in sources)
    for subject in ("airframe", "motor", "model", "rail", "air", "recovery", "separation",
                    "structure", "workshop", "electronics"):  # fmt: skip
        names = vars(__import__(f"goodflight.studies.sampling.{subject}", fromlist=["x"]))
        for name, each in names.items():
            if isinstance(each, Quantity | Family):
                assert re.search(rf"\b{subject}\.{name}\b", text), f"{subject}.{name}"


@pytest.mark.parametrize(
    ("item", "units", "text"),
    [
        (Input("a", "a", "ratio", None, 0.15, share=True), "metric", "±15 %"),
        (Input("a", "a", "ratio", None, 0.25), "metric", "±0.25"),
        (Input("a", "a", "ratio", 0.75, 0.08), "metric", "0.75 ±0.08"),
        (Input("a", "a", "calibre", None, 0.25), "metric", "±0.25 cal"),
        (Input("a", "a", "force", 32.0, 2.0), "metric", "32 N ±2"),
        (Input("a", "a", "speed", None, 3.04), "metric", "±3.04 m/s"),
        (Input("a", "a", "length", 0.0254, 0.00635), "imperial", "1.0 in ±0.2"),
    ],
)
def test_an_input_is_told_from_its_numbers(item: Input, units: str, text: str) -> None:
    assert value(item, units) == text


def test_an_input_tells_why_only_where_the_project_does_not() -> None:
    view = fly_trials(sample_case(3.0), 40, 1)
    limits = {limit.key: limit for limit in LIMIT_STATES}
    rows = {
        key: {each.key: each for each in inputs_of(view, limit)} for key, limit in limits.items()
    }
    heat = rows["charge_strong"]["powder_heat"]
    assert (heat.value, heat.sigma, heat.share, heat.because) == (None, 0.155, True, "guess")
    assert reason(heat).endswith("in a cold bay; our guess")
    pull = rows["separation_handled"]["given:pull_n"]
    assert (pull.value, pull.sigma, pull.known) == (32.0, 2.0, "measured")
    assert (pull.because, reason(pull)) == ("builder", "")
    assert rows["charge_strong"]["motor_charge"].value == 0.001


def with_separation(**changes: Any) -> Case:
    case = sample_case(3.0)
    parts = replace(case.rocket.separation, **changes)
    return replace(case, rocket=replace(case.rocket, separation=parts))


@pytest.mark.parametrize(
    ("changes", "row", "places"),
    [
        ({"pull_n": None}, "separation_handled", ["separation.pull"]),
        ({"retention_n": None}, "motor_pushed_out", ["retention.holds"]),
        ({"fore_anchor_n": None}, "snatch_anchor",
         ["separation.fore_anchor"]),
        ({"edge_strength_pa": None}, "zipper",
         ["separation.edge", "separation.edge_strength"]),
        ({"blanket_m2": None}, "canopy_scorched",
         ["charge.blanket", "charge.wadding"]),
    ],
)  # fmt: skip
def test_an_unknown_row_asks_for_its_figures_by_file_and_key(
    changes: dict[str, None], row: str, places: list[str]
) -> None:
    view = fly_trials(with_separation(**changes), 20, 1)
    found = next(each for each in evaluate(view) if each.limit.key == row)
    assert not found.known and found.missing
    assert [each.place for each in found.asks] == places
    assert all(each.file == "rocket.toml" for each in found.asks)
    assert all(each.minutes or each.choices for each in found.asks)


def test_an_entry_names_the_file_of_this_flight() -> None:
    case = sample_case(3.0)
    assert air.wind.home(case) == "plans.toml:plan[sample plan].day.wind"
    assert motor.charge.home(case) == "motors/middle.toml:charge"
    assert recovery.cord_strength.home(case) == "rocket.toml:part[cord].strength"
    told = asked(separation.pull.entry(case))
    assert told.startswith("pull to separate: separation.pull in rocket.toml; pull the rocket")
    assert told.endswith("(luggage scale, 10 min)")
    assert "no flight instrument" in asked(model.cp.entry(case))


def test_shear_pins_scatter_as_a_set() -> None:
    """Two #2-56 pins shear at 225 N (2 x 54 MPa x pi/4 x 1.628 mm squared, worked in pin_force_n);
    material 6 %, moisture 15 %, edge and fit 10 % together: sqrt(0.36 + 2.25 + 1.00) = 19 %, 20 %
    taken. Source of the parts: nylon data sheets and a fastener maker's humidity test, seen.
    """
    assert math.hypot(0.06, 0.15, 0.10) == pytest.approx(0.19, abs=0.001)
    view = fly_trials(with_separation(pins=2, pull_n=Figure(0.0)), 2000, 1)
    held = hold_n(view)
    assert not isinstance(held, Missing)
    assert held.mean() == pytest.approx(225.0, rel=0.01)
    assert held.std() / held.mean() == pytest.approx(0.20, rel=0.03)
    assert "pin_strength" not in [f.key for f in factors_of(sample_case())]


class Reading(View):
    """A view that notes which quantities a row reads."""

    read: set[str]

    def __init__(self, view: View) -> None:
        super().__init__(view.case, view.trials, view.outcomes)
        object.__setattr__(self, "read", set())

    def of(self, quantity: Quantity | Family, name: str = "") -> np.ndarray:
        self.read.add(quantity.key)
        return super().of(quantity, name)

    def given(self, quantity: Quantity | Family, name: str = "") -> np.ndarray | None:
        self.read.add(quantity.key)
        return super().given(quantity, name)


def test_a_row_names_every_quantity_that_it_reads() -> None:
    flown = fly_trials(sample_case(3.0), 20, 1)
    for limit in LIMIT_STATES:
        view = Reading(flown)
        limit.evaluate(view)
        assert view.read <= {each.key for each in limit.needs}, limit.key
