"""What is kept by what it hangs on: asked anew when that changes, and only then."""

import pytest

from goodflight.project import read_project
from goodflight.project.demo import demo_files
from goodflight.studies.case import project_case
from goodflight.studies.case.alike import MOST, Alike
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of


def changed(file: str, old: str, new: str) -> Case:
    files = dict(demo_files())
    assert old in files[file]
    return case_of(read_project({**files, file: files[file].replace(old, new)}), "breezy")


def test_an_equal_question_is_answered_once_and_a_failure_is_not_kept() -> None:
    kept, worked = Alike[int](), []

    def work(number: int) -> int:
        worked.append(number)
        return 1 // number

    assert [kept.of((n, [n]), lambda n=n: work(n)) for n in (1, 1, 2, 1)] == [1, 1, 0, 1]
    assert worked == [1, 2]
    for _ in range(2):
        with pytest.raises(ZeroDivisionError):
            kept.of((0,), lambda: work(0))
    assert worked == [1, 2, 0, 0]
    for n in range(3, 3 + MOST):
        kept.of((n,), lambda n=n: work(n))
    assert kept.of((1, [1]), lambda: 5) == 5  # the oldest go first


def test_a_length_moves_what_a_spread_does_and_a_wind_does_not(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    planned = changed("plans.toml", 'wind = "4.5 m/s', 'wind = "4.5 m/s')
    length = changed("rocket.toml", 'span = "80 mm"', 'span = "81 mm"')
    monkeypatch.delattr(project_case, "_effects")  # whoever works it out anew fails
    wind = changed("plans.toml", 'wind = "4.5 m/s', 'wind = "5.5 m/s')
    moved = [case.uncertainty.sensitivities for case in (planned, wind, length)]
    assert wind.day.wind_m_s > planned.day.wind_m_s + 0.9
    assert moved[0] == moved[1] != moved[2]
    with pytest.raises(NameError):
        changed("rocket.toml", 'span = "80 mm"', 'span = "82 mm"')
