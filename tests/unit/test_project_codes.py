"""Code sets as files: those that ship, a project's own, and what a fault in one says."""

import math
from dataclasses import fields

import pytest

from code_figures import DIMENSIONS, UNITS, figures_in
from goodflight.outputs.ledger.basis_words import formula, sources
from goodflight.project import ProjectErrors, read_project
from goodflight.project.codes import CONFIRM_KEYS, CodeSet, packaged_codes
from goodflight.project.demo import demo_files
from goodflight.quantity import show
from goodflight.studies.case.codes import CODE_SETS
from goodflight.studies.case.project_case import case_of
from goodflight.studies.questions.ledger import ledger, ledger_of
from sample_case import within

CLUB = """\
title = "Our field's own rules"
[limit.wind]
value = "6 m/s"
source = "notice board"
how = "seen"
[[crew]]
up_to = "640 N s"
distance = "40 m"
source = "notice board"
how = "seen"
[[crew]]
up_to = "320 N s"
distance = "30 m"
source = "notice board"
how = "seen"
[[confirm]]
key = "fire"
text = "two buckets of water at the pad"
source = "notice board"
how = "seen"
"""


def with_club(text: str = CLUB, name: str = "club") -> dict[str, str]:
    files = demo_files()
    files[f"codes/{name}.toml"] = text
    site = files["sites/larkrise.toml"]
    files["sites/larkrise.toml"] = site.replace('code = "us"', f'code = "{name}"')
    return files


def test_a_project_may_hold_its_own_rules() -> None:
    project = read_project(with_club())
    code = case_of(project).rules.code
    assert code is not None and code.key == "club"
    assert code.wind_m_s is not None and code.wind_m_s.value == 6.0
    assert [up_to for up_to, _ in code.people_m] == [320.0, 640.0]  # put in order
    assert code.rail_tilt_rad is None
    assert "highest rail angle" in code.not_stated() and "flight at night" in code.not_stated()
    assert "fire precautions" not in code.not_stated()


def test_what_it_does_not_state_is_unknown_in_the_ledger() -> None:
    found = ledger(read_project(with_club()), flights=40, remedies=False)
    rows = {row.key: row for row in found.rows}
    assert rows["rail_angle"].state == rows["site_size"].state == "unknown"
    assert rows["rail_angle"].advice.startswith("not stated in the code set 'club'")
    assert rows["wind_limit"].state != "unknown"
    assert dict(found.stands_on)["code set"] == "Our field's own rules"


def test_its_own_set_of_a_known_name_goes_first() -> None:
    code = case_of(read_project(with_club(name="us"))).rules.code
    assert code is not None and code.title == "Our field's own rules"
    assert packaged_codes()["us"].title.startswith("United States")


@pytest.mark.parametrize(
    ("find", "put", "says"),
    [
        ('value = "6 m/s"', 'value = "6 m"', "expected a wind"),
        ('how = "seen"', 'how = "sure"', 'one of "seen", "derived", "practice", "memory"'),
        ('key = "fire"', 'key = "water"', 'one of "night"'),
        ("[limit.wind]", "[limit.wnd]", "wnd"),
    ],
)
def test_faults_of_a_code_set_are_told(find: str, put: str, says: str) -> None:
    with pytest.raises(ProjectErrors) as caught:
        read_project(with_club(CLUB.replace(find, put, 1)))
    assert any(f.file == "codes/club.toml" and says in f.sentence for f in caught.value.faults)


def test_the_demo_answers_all_but_the_view_of_the_day() -> None:
    project = read_project(demo_files())
    for plan in project.plans:
        assert set(plan.says.confirmed) == set(CONFIRM_KEYS) - {"visibility"}
    rows = {row.key: row for row in ledger(project, flights=40, remedies=False).rows}
    assert len(rows) >= 40
    assert rows["visibility"].state == "unknown"
    assert rows["notice"].state == "ok"
    for row in rows.values():
        assert row.basis.formula and row.basis.sources
        assert row.state != "unknown" or row.advice


def test_every_figure_of_a_code_set_is_asked_for() -> None:
    others = {"key", "title", "clauses", "about"}
    assert {each.name for each in fields(CodeSet)} == set(DIMENSIONS) | others
    first = CODE_SETS["us"]
    assert 20 * 0.44704 in figures_in(first, "wind_m_s")  # 20 mph, NFPA 1127
    assert all(figures_in(first, name) for name in DIMENSIONS if name != "site_steps_m")


def test_under_another_code_set_no_figure_or_source_of_the_first_remains() -> None:
    """Figures as numbers and as they would be printed, in both systems, in every text of the rows
    of the code. What a set's own clauses say stands there too: 160 N s in the United Kingdom."""
    case, first = case_of(read_project(demo_files())), CODE_SETS["us"]
    for key in ("canada", "uk", "germany", "australia"):
        own = CODE_SETS[key]
        clauses = " ".join(each.text for each in (own.clauses or {}).values())
        rows = ledger_of(within(case, "rules", code=own), 20, 1, remedies=False).rows
        for row in (each for each in rows if each.kind != "failure"):
            told = [
                *row.basis.sources,
                row.advice,
                *map(str, row.warnings),
                *(a.how for a in row.asks),
            ]
            told += [formula(row.basis, u) for u in UNITS]
            words = " ".join((*told, *(w for u in UNITS for w in sources(row.basis, u))))
            assert "14 CFR" not in words and "NFPA" not in words, (key, row.key, words)
            if row.phase != "code":
                continue
            for name, dimension in DIMENSIONS.items():
                for value in figures_in(first, name) - figures_in(own, name):
                    assert not any(
                        each.dimension == dimension and math.isclose(each.value, value)
                        for each in row.basis.figures.values()
                    ), (key, row.key, name)
                    if dimension != "ratio":
                        shown = {show(value, dimension, units) for units in UNITS}
                        left = [s for s in shown if f" {s}" in words and f" {s}" not in clauses]
                        assert not left, (key, row.key, left)
            assert "20 mph" not in words and "457" not in words, (key, row.key, words)
