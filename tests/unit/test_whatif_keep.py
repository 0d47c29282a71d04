"""What is tried is what is flown once it is kept: every change, every control."""

import shutil
import tempfile
from collections.abc import Callable
from pathlib import Path
from typing import Final

import numpy as np
import pytest

from goodflight.project import Project, load
from goodflight.project.demo import write_demo
from goodflight.project.part_forms import keep
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.judging.evaluate import any_failing, evaluate
from goodflight.studies.levers.whatif import tried
from goodflight.studies.sampling.flights import fly_trials

pytestmark = pytest.mark.long

FLIGHTS = 300
# what one standard deviation of the other lengths does is not worked out again for a changed
# shape, and where a new part lies is drawn by itself while it is tried, so that one flight that
# stands on the line may fall on its other side
MET = ("meet_night", "people_back", "tighten")  # changes that meet what was not met at all
RESHAPED = ("ballast=", "fillets=", "fin_sheet=", "fin_size=", "canopy=", "canopy_size=")


@pytest.fixture(scope="module")
def poor(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo with rules not met, people too near, a loose screw and a charge of its own."""
    folder: Path = tmp_path_factory.mktemp("poor") / "fieldfare"
    write_demo(folder)
    for file, old, new in (
        ("plans.toml", 'confirmed = ["night", ', 'denied = ["night"]\nconfirmed = ['),
        ("plans.toml", 'deployment = "delay"', 'deployment = "altimeter"'),
        ("sites/larkrise.toml", 'spectators = "60 m"', 'spectators = "20 m"'),
        ("build.toml", 'the cord"\nstate = "tight"', 'the cord"\nstate = "loose"'),
        ("rocket.toml", "[charge] ", '[charge]\npowder = "1.0 g ± 0.1 g measured" '),
    ):  # fmt: skip
        path = folder / file
        text = path.read_text("utf-8")
        assert old in text, old
        path.write_text(text.replace(old, new), "utf-8")
    return folder


@pytest.fixture
def copy(tmp_path: Path) -> Callable[[Path], Project]:
    def made(folder: Path) -> Project:
        shutil.copytree(folder, tmp_path / "copy")
        return load(tmp_path / "copy")

    return made


def fails(case: Case) -> dict[str, int]:
    """How many flights fail in every row, and in any."""
    rows = [row for row in evaluate(fly_trials(case, FLIGHTS, 1)) if not row.not_here]
    found = {row.limit.key: int(row.failing.sum()) if row.known else -1 for row in rows}
    return {**found, "any": int(any_failing(rows).sum())}


def of_the_demo(plan: str = "breezy") -> Case:
    """A plan of the demo written anew, for the names of the tests."""
    with tempfile.TemporaryDirectory() as place:
        write_demo(Path(place) / "demo")
        return case_of(load(Path(place) / "demo"), plan)


def some_changes() -> list[str]:
    """The least, a middle and the greatest change of every ladder of a lever."""
    ladders = tried(of_the_demo(), {}).ladders
    picked = ((way[0], way[len(way) // 2], way[-1]) for way in ladders)
    return list(dict.fromkeys(change.key for three in picked for change in three))


SHUT_IN: Final = pytest.mark.xfail(
    strict=True, reason="ballast behind a plate that is glued in: only once kept, its row says so"
)
WEIGHED: Final = pytest.mark.xfail(
    strict=True, reason="a weighed part that is replaced: kept, its mass is that of the weighing"
)


def _known(key: str) -> list[pytest.MarkDecorator]:
    """Why a change that is tried is not yet the one that is kept."""
    if key.startswith("ballast="):
        return [SHUT_IN]
    return [WEIGHED] if key == "fin_sheet=0.01" else []


@pytest.mark.parametrize(
    "key",
    [pytest.param(key, marks=_known(key)) for key in some_changes()],
)
def test_a_change_tried_alone_is_the_one_flown_and_kept_is_the_same(
    demo_folder: Path,
    demo_case: Callable[[str], Case],
    copy: Callable[[Path], Project],
    key: str,
) -> None:
    project, case = copy(demo_folder), demo_case("breezy")
    change = next(each for each in tried(case, {}).changes if each.key == key)
    trial = tried(case, change.settings)
    assert set(change.setting.writes) <= set(trial.writes)
    assert change.lever.key in trial.changed and set(trial.changed) <= {
        change.lever.key,
        "delay_out",
    }
    flown = fails(trial.case)
    assert flown == fails(change.case)
    kept = fails(case_of(keep(project, trial.writes), "breezy"))
    off = {row: (flown[row], kept.get(row)) for row in flown if flown[row] != kept.get(row)}
    most = 1 if key.startswith(RESHAPED) else 0
    assert all(b is not None and min(a, b) >= 0 and abs(a - b) <= most for a, b in off.values()), (
        off
    )


@pytest.mark.parametrize(
    "prefix", ["meet_night", "people_back", "tighten", "powder=", "anchors=1.5", "sky=clear"]
)
def test_what_is_done_about_rules_and_charges_can_be_kept(
    poor: Path, copy: Callable[[Path], Project], prefix: str
) -> None:
    project = copy(poor)
    case = case_of(project, "breezy")
    change = next(each for each in tried(case, {}).changes if each.key.startswith(prefix))
    after = fails(change.case)
    assert fails(case_of(keep(project, change.setting.writes), "breezy")) == after
    if prefix in MET:
        before = fails(case)
        assert [(before[row], after[row]) for row in change.lever.helps] == [(FLIGHTS, 0)]


def some_options() -> list[tuple[str, str]]:
    """Every control with a few of its options, the planned one left out."""
    found = []
    for control in tried(of_the_demo(), {}).controls:
        ids = [each.id for each in control.offer.settings if each.id != control.offer.now]
        found += [(control.key, each) for each in ids[:: max(1, len(ids) // 3)]]
    return found


@pytest.mark.parametrize(("control", "option"), some_options())
def test_every_control_kept_is_the_case_that_was_tried(
    demo_folder: Path,
    demo_case: Callable[[str], Case],
    copy: Callable[[Path], Project],
    control: str,
    option: str,
) -> None:
    project, case = copy(demo_folder), demo_case("breezy")
    trial = tried(case, {control: option})
    assert control in trial.changed
    kept = case_of(keep(project, trial.writes), "breezy")
    assert kept.deployment.delay_out_s == pytest.approx(trial.case.deployment.delay_out_s)
    assert kept.rail.length_m == pytest.approx(trial.case.rail.length_m)
    assert kept.rail.tilt_rad == pytest.approx(trial.case.rail.tilt_rad)
    spread = trial.case.uncertainty.cant_sigma_rad
    assert kept.uncertainty.cant_sigma_rad == pytest.approx(spread)
    assert kept.day.wind_m_s == pytest.approx(trial.case.day.wind_m_s)
    assert kept.day.wind_sigma_m_s == pytest.approx(trial.case.day.wind_sigma_m_s)
    assert kept.motor.name == trial.case.motor.name
    assert kept.motor.delay_s == pytest.approx(trial.case.motor.delay_s)
    assert kept.motor.delay_sigma == pytest.approx(trial.case.motor.delay_sigma, rel=1e-2)
    assert kept.rocket.separation == trial.case.rocket.separation
    own, other = (
        {i.name: (i.mass_kg, i.mass_sigma_kg) for i in each.items} for each in (trial.case, kept)
    )
    assert own.keys() == other.keys()
    for name, figures in own.items():
        np.testing.assert_allclose(other[name], figures, rtol=1e-6, err_msg=name)


def test_a_wind_that_is_chosen_is_a_guess_and_the_planned_one_stays_as_it_is(
    demo_folder: Path,
) -> None:
    case = case_of(load(demo_folder), "breezy")  # 4.5 m/s ± 0.3 m/s measured
    assert tried(case, {"wind": "4.5"}).writes == ()
    trial = tried(case, {"wind": "3"})
    assert trial.writes == (("plans.toml:plan[breezy].day.wind", "3 m/s ± 0.2 m/s"),)
    assert trial.case.day.wind_sigma_m_s == pytest.approx(0.2)


def test_two_answers_tried_together_are_both_kept_and_no_older_day_is_put_to_them(
    poor: Path, copy: Callable[[Path], Project]
) -> None:
    project = copy(poor)
    assert project.root is not None
    path = project.root / "plans.toml"
    text = path.read_text("utf-8").replace(', "fire"]', "]")
    told = 'denied = ["night", "fire"]\nconfirmed_on = "2026-10-09"'
    path.write_text(text.replace('denied = ["night"]', told), "utf-8")
    case = case_of(load(project.root), "breezy")
    assert set(case.plan_says.denied) == {"night", "fire"} and case.plan_says.confirmed_on
    trial = tried(case, {"meet_night": "done", "meet_fire": "done"})
    kept = case_of(keep(load(project.root), trial.writes), "breezy").plan_says
    for says in (trial.case.plan_says, kept):
        assert not says.denied and {"night", "fire"} <= set(says.confirmed)
        assert says.confirmed_on == ""
