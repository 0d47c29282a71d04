"""The field card: the choices it shows are those of the grid, in words that hide nothing."""

import base64
import hashlib
import json
import re
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from goodflight import cli
from goodflight.cli import shell
from goodflight.outputs.field_card import words
from goodflight.outputs.field_card.paper import SIZES, card_pdf
from goodflight.outputs.words import CAUTION, speak
from goodflight.page.card_file import card_html
from goodflight.project import Project, read_project
from goodflight.project.demo import demo_files
from goodflight.studies.case.planned import Case
from goodflight.studies.case.project_case import case_of
from goodflight.studies.cautions import caution
from goodflight.studies.field.card import CAUTIONS, FieldCard, card, refuse_above
from goodflight.studies.field.card_limit import Edge, to_half_steps
from goodflight.studies.field.checks import Check, checks_of, forbids, told_of
from goodflight.studies.field.choices import TIE, Tried, tried
from goodflight.studies.field.conditions import Conditions
from goodflight.studies.field.day import walk_away
from goodflight.studies.field.grid import FieldGrid, GridCell, Over, grid_of
from goodflight.studies.field.surer import MORE_FLIGHTS, surer
from goodflight.studies.field.together import Judged
from goodflight.studies.judging.plan import Plan
from goodflight.studies.levers.motor import motor_key

pdfium = pytest.importorskip("pypdfium2")
DAY = "2026-03-01"


@pytest.fixture(scope="module")
def made(demo: Project) -> FieldCard:
    return card(demo, winds=(1.0, 9.5), tilts=(), flights=20)


@pytest.fixture(scope="module")
def html(demo: Project, made: FieldCard) -> str:
    return card_html(demo, made, day=DAY)


def cells_at(made: FieldCard, wind: float) -> list[GridCell]:
    return [cell for cell in made.grid.cells if cell.wind_m_s == wind]


# --- what is chosen ---


def test_the_best_of_a_wind_breaks_no_rule_hides_nothing_and_fails_least(made: FieldCard) -> None:
    for best in made.best:
        for cell in cells_at(made, best.wind_m_s):
            fewest, here = (
                (len(best.forbidden), len(best.unknown)),
                (len(cell.forbidden), len(cell.unknown)),
            )
            assert fewest <= here
            assert fewest < here or best.chance <= cell.chance + TIE


def test_what_ties_goes_to_where_nobody_is_then_to_the_plan(
    demo: Project, made: FieldCard, monkeypatch: pytest.MonkeyPatch
) -> None:
    """All cells alike: as planned, at every wind. One that spares people within the tie: that."""
    alike = [
        replace(
            cell,
            forbidden=(),
            unknown=(),
            chance=0.2,
            low=0.19,
            high=0.21,
            unopened_near=0.1,
            off_field=0.0,
        )
        for cell in made.grid.cells
    ]
    far = next(i for i, c in enumerate(alike) if (c.motor, c.delay_out_s) == ("H-a", 0.0))
    for cells, motor, out in (
        (alike, "H-b", 2.0),
        ([*alike[:far], replace(alike[far], chance=0.22, unopened_near=0.0), *alike[far + 1 :]],
         "H-a", 0.0),
    ):  # fmt: skip
        grid = replace(made.grid, cells=tuple(cells))
        monkeypatch.setattr("goodflight.studies.field.card.grid_of", lambda *a, g=grid, **k: g)
        best = card(demo, winds=(1.0, 9.5), tilts=(), flights=20).best[0]
        assert (best.motor, best.delay_out_s) == (motor, out)


def test_the_plan_itself_is_among_the_cells(made: FieldCard, demo: Project) -> None:
    """The demo's morning as its file says: H-b, 2 s out, wind 1 m/s."""
    plan = made.planned
    assert (plan.motor, plan.delay_out_s, plan.wind_m_s) == ("H-b", 2.0, 1.0)


def test_wind_is_refused_from_the_first_rule_not_met(made: FieldCard) -> None:
    """20 mph, 8.94 m/s, is the limit of the demo's code; its own limit is 5 m/s."""
    assert made.refused is not None and "wind_limit" in made.best[1].unmet
    assert made.refuse_above_m_s == 1.0 and made.refused.wind_m_s == 9.5
    why = words.refuse_why(made, "metric")
    assert "wind above the code's limit" in why and "mean wind: 9.5 m/s, at most 5 m/s" in why


def own(edited: str, put: str) -> Project:
    """The demo with one own limit of day.toml written otherwise."""
    files = demo_files()
    assert edited in files["day.toml"]
    return read_project({**files, "day.toml": files["day.toml"].replace(edited, put)})


@pytest.mark.parametrize(
    ("edited", "put"),
    [("", ""), ("chance = 0.25", "chance = 0.9"), ('wind = "5 m/s" ', 'wind = "1.5 m/s" ')],
)
def test_card_and_board_walk_away_at_one_wind_for_one_reason(edited: str, put: str) -> None:
    """The plan alone on the board's own winds and flights, under limits of every kind."""
    project = own(edited, put)
    case = case_of(project, None)
    limits = project.day.limits

    def checked(flown: Case, found: Judged) -> tuple[tuple[Check, ...], Plan]:
        return checks_of(flown, found, limits, None)

    (now,) = tried(case, [Conditions()], checked, 40, 1)
    walk, more, why = walk_away(case, now, checked, 40, 1)
    winds = [case.day.wind_m_s + 0.5 * i for i in range(9)]
    cells = grid_of(
        case,
        Over(winds, (case.deployment.delay_out_s,), motors=[motor_key(case)]),
        40,
        checked=checked,
    ).cells
    above, refused = refuse_above(cells)
    assert above == walk and (refused is None) == more
    if refused is not None:
        assert told_of(forbids(refused.forbidden)[0]).told() == why.told()
    if put.startswith("wind"):
        assert above == 1.5 and why.told() == "mean wind: 2 m/s, at most 1.5 m/s"


@pytest.mark.parametrize("plan", ["morning", "small motor"])
def test_the_card_s_limit_has_the_board_s_step(demo: Project, plan: str) -> None:
    """Each of the demo's plans alone: whole winds and one half step, against every half step."""
    case, limits = case_of(demo, plan), demo.day.limits

    def checked(flown: Case, found: Judged) -> tuple[tuple[Check, ...], Plan]:
        return checks_of(flown, found, limits, None)

    def sure(tries: Sequence[Tried]) -> list[Tried]:
        return surer([(case, tries)], limits, checked, 1)[0]

    def cell_at(grid: FieldGrid, wind: float) -> GridCell:
        (cell,) = (each for each in grid.cells if each.wind_m_s == wind)
        return cell

    walk, _, _ = walk_away(
        case, sure(tried(case, [Conditions()], checked, 40, 1))[0], checked, 40, seed=1, sure=sure
    )
    whole = grid_of(
        case,
        Over(
            [float(wind) for wind in range(1, 7)],
            (case.deployment.delay_out_s,),
            motors=[motor_key(case)],
        ),
        flights=40,
        checked=checked,
    )
    grid = to_half_steps(whole, Edge(case, limits, checked, best=cell_at))
    assert len(grid.cells) == len(whole.cells) + 1 == len(grid.winds_m_s)
    above, refused = refuse_above([cell_at(grid, wind) for wind in grid.winds_m_s])
    assert above == walk and above is not None
    assert refused is not None and refused.wind_m_s == above + 0.5
    assert MORE_FLIGHTS in (cell_at(grid, above).flights, refused.flights)


def test_own_limits_and_who_signed_them_stand_on_the_card(made: FieldCard, html: str) -> None:
    """As in the demo's day.toml; without a signature, and without limits, that is said."""
    told = words.limits_words(made, "metric")
    for each in ("wind at most 5 m/s mean at 2 m", "gusts at most 8 m/s", "at least 650 m",
                 "at least 2 °C", "at most 60 min", "25 in 100",
                 "by the mentor, 2026-10-09"):  # fmt: skip
        assert each in told
    assert told in html.replace("&#39;", "'").replace("\u00a0", " ")
    assert "signed by nobody" in words.limits_words(replace(made, signed=""), "metric")
    assert "none agreed" in words.limits_words(replace(made, limits=()), "metric")


def test_more_unknown_is_never_chosen_for_a_lower_chance(
    made: FieldCard, demo: Project, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A motor of which less is known stands behind one of which more is."""
    hidden = [
        replace(cell, unknown=("too_early",), chance=0.0) if cell.motor == "H-a" else cell
        for cell in made.grid.cells
    ]
    grid = replace(made.grid, cells=tuple(hidden))
    monkeypatch.setattr("goodflight.studies.field.card.grid_of", lambda *args, **named: grid)
    again = card(demo, winds=(1.0, 9.5), tilts=(), flights=20)
    assert all(cell.motor != "H-a" for cell in again.best if not cell.forbidden)
    said = words.cell_words(again, hidden[0], "metric")
    assert hidden[0].motor == "H-a" and said.chance == "not known"
    assert said.why[0] == ("not known", again.titles["too_early"])


# --- words ---


def test_what_stands_at_the_top(made: FieldCard) -> None:
    top = dict(words.top_lines(made, "metric"))
    assert top["delay"] == "H-b: take 2 s out of the delay, 9 s after burnout left"
    assert re.fullmatch(r"Pull it apart: [\d.]+ N to [\d.]+ N", top["pull"])
    blind = replace(made, pull_min_n=None)
    assert dict(words.top_lines(blind, "metric"))["pull"] == "Pull of the separation: not known"
    crossed = replace(made, pull_min_n=100.0, pull_max_n=50.0)
    assert "no force holds" in dict(words.top_lines(crossed, "metric"))["pull"]
    never = replace(made, refuse_above_m_s=None)
    assert dict(words.top_lines(never, "metric"))["refuse"].startswith("Do not fly")


def test_a_cell_says_what_is_not_known(made: FieldCard) -> None:
    cell = replace(
        made.best[0],
        off_field=None,
        unopened_near=None,
        apogee_m=None,
        landing_m=None,
        unopened_m=(0.0, -30.0),
    )
    why = dict(words.cell_words(made, cell, "metric").why)
    for key in (
        "off the field or in a keep-out",
        "would reach people unopened",
        "apogee",
        "comes down",
    ):
        assert why[key] == "not known", key
    assert why["if nothing opens"] == "30.0 m south (bearing 180 deg)"


# --- the file ---


def data_in(html: str) -> dict[str, Any]:
    (text,) = re.findall(r'id="data">(.*?)</script>', html, re.S)
    found: dict[str, Any] = json.loads(text)
    return found


def test_the_file_stands_alone(html: str) -> None:
    (policy,) = re.findall(r'Content-Security-Policy" content="([^"]*)"', html)
    for kind in ("style", "script"):
        (text,) = re.findall(f"<{kind}>(.*?)</{kind}>", html, re.S)
        digest = base64.b64encode(hashlib.sha256(text.encode()).digest()).decode()
        assert f"{kind}-src &#39;sha256-{digest}&#39;" in policy
    assert "default-src &#39;none&#39;" in policy
    named = html.replace('xmlns="http://www.topografix.com/GPX/1/1"', "")  # a name, never asked for
    assert "href=" not in html and not re.search(r"https?://", named)
    assert not re.search(r"""(?:src|url\()\s*=?\s*["']?(?!data:)[a-z/]""", html)
    assert len(html.encode()) < 1_000_000


def test_no_line_ends_between_a_figure_and_its_unit(html: str) -> None:
    shown = re.sub(r"(?s)<script.*?</script>|<[^>]*>", "\n", html)
    words = shown + "\n".join(data_in(html)["words"])
    assert "\u00a0m/s" in words and "\u00a0in\u00a0100" in words
    assert not re.findall(r"\d (?:m|m/s|s|N|deg|mm|g|in \d)\b", words)


def test_every_cell_is_in_the_file_in_its_words(html: str, made: FieldCard) -> None:
    data = data_in(html.replace("\u00a0", " "))
    assert len(data["cells"]) == len(made.grid.cells)
    assert all(key in data["cells"] for key in data["best"])
    cell = made.best[0]
    found = data["cells"][data["best"][0]]
    said = words.cell_words(made, cell, "metric")
    assert [data["words"][i] for i in found[0]] == list(said.do)
    assert data["words"][found[1]] == said.chance
    assert speak(cell.chance, cell.low, cell.high) in said.chance or "at least" in said.chance
    motor, lean, out = data["plan"]
    assert data["motors"][motor] == "H-b" and data["outs"][motor][out] == "2 s"
    assert f"{motor} 0 {lean} {out}" in data["cells"]


def test_lists_and_cautions_are_in_the_file_without_a_script(html: str, made: FieldCard) -> None:
    plain = html.replace("&#39;", "'").replace("\u00a0", " ")
    for each in made.lists:
        assert each.title in plain and all(line.reply in plain for line in each.lines)
    for key in CAUTIONS:
        assert caution(key) in plain
    assert CAUTION in plain and f"made {DAY}" in plain and plain.count(made.stamp) >= 3


def test_a_text_cannot_end_its_element(demo: Project, made: FieldCard) -> None:
    named = replace(made, motors=tuple(replace(m, name="</script><b>") for m in made.motors))
    html = card_html(demo, named, day=DAY)
    assert "</script><b>" not in html and data_in(html)["motors"][0] == "</script><b>"


# --- paper and command ---


@pytest.mark.parametrize("paper", SIZES)
def test_a_wind_is_not_cut_across_two_sides(made: FieldCard, paper: str) -> None:
    """Many winds refused for long reasons: every side after the first begins with a wind."""
    winds = [replace(made.best[-1], wind_m_s=float(i)) for i in range(1, 16)]
    pdf = card_pdf(replace(made, best=tuple(winds)), paper, day=DAY)
    with pdfium.PdfDocument(pdf) as file:
        sides = [
            page.get_textpage().get_text_bounded().split("anything fails, mainly") for page in file
        ]
    starts = [" ".join(side[1].split()) for side in sides if len(side) == 2]
    assert len(starts) > 1 and all(re.match(r"\d+ m/s", each) for each in starts), starts


@pytest.mark.parametrize("paper", SIZES)
def test_paper_has_its_size_and_says_the_same(made: FieldCard, paper: str) -> None:
    pdf = card_pdf(made, paper, day=DAY)
    assert card_pdf(made, paper, day=DAY) == pdf
    width, height, _ = SIZES[paper]
    with pdfium.PdfDocument(pdf) as file:
        for page in file:
            assert page.get_size() == pytest.approx((width * 72 / 25.4, height * 72 / 25.4))
        text = " ".join(" ".join(page.get_textpage().get_text_bounded().split()) for page in file)
    for _, line in words.top_lines(made, "metric"):
        assert line in text
    assert words.limits_words(made, "metric") in text
    assert "That limit is for what the table names at each wind" in text
    for key in ("misfire", "landed"):
        assert caution(key)[:60] in text
    assert f"Made {DAY}, figures {made.stamp}" in text and "invented" in text


def test_the_command_writes_both(
    demo_folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    asked = ["card", str(demo_folder), "--flights", "20", "--wind", "2 m/s"]
    assert shell.run([*asked, "-o", str(tmp_path / "card.html")]) == cli.DONE
    assert "take 2 s out of the delay" in capsys.readouterr().out
    assert (tmp_path / "card.html").read_text("utf-8").startswith("<!doctype html>")
    assert shell.run([*asked[:-1], "2 kg"]) == cli.BAD_INPUT
    assert "--wind" in capsys.readouterr().err
