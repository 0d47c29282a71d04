"""Two plans, or two rockets, side by side say what each ledger says alone."""

import json
from pathlib import Path

from click.testing import CliRunner

from goodflight import load
from goodflight.cli.app import app
from goodflight.cli.shell import BadInputError
from goodflight.outputs.ledger.beside_text import beside_text, telling
from goodflight.outputs.text_page import Terminal
from goodflight.project import Project, write_project
from goodflight.project.newcomer import project_files
from goodflight.studies.questions.beside import beside
from goodflight.studies.questions.ledger import ledger
from page_client import Page
from sample_case import MOTOR_TOLD

FLIGHTS = 60


def test_both_sides_are_the_ledgers_of_their_plans(demo: Project) -> None:
    found = beside(demo, "morning", "breezy", flights=FLIGHTS)
    for side, plan, chances in (
        (found.first, "morning", {row.key: row.first for row in found.rows}),
        (found.second, "breezy", {row.key: row.second for row in found.rows}),
    ):
        alone = ledger(demo, plan, FLIGHTS, remedies=False)
        assert side.chance == alone.chance and side.plan == plan
        assert {row.key: row.chance for row in alone.rows} == {
            row.key: chances[row.key] for row in alone.rows
        }
    gaps = [abs((row.first or 0.0) - (row.second or 0.0)) for row in found.rows]
    assert gaps == sorted(gaps, reverse=True) and gaps[0] > 0.0
    text = beside_text(found, Terminal(width=80))
    assert max(map(len, text.splitlines())) <= 79
    assert telling(found)[0].title[:30] in text
    heads = next(row for row in text.splitlines() if row.split() == ["A", "B"])
    first = next(row for row in text.splitlines() if telling(found)[0].title[:30] in row)
    one, two = first.split()[:2]  # each number ends under its letter
    assert first.index(one) + len(one) == heads.index("A") + 1
    assert first.rindex(two, 0, heads.index("B") + 1) + len(two) == heads.index("B") + 1


def test_a_plan_beside_itself_differs_in_nothing(demo: Project) -> None:
    found = beside(demo, "morning", "morning", flights=FLIGHTS)
    assert all(row.first == row.second for row in found.rows)


def test_another_rocket_in_the_terminal_and_another_plan_on_the_page(
    folder: Path, tmp_path: Path
) -> None:
    write_project(tmp_path / "told", project_files(MOTOR_TOLD))
    asked = ["beside", str(folder), "--other", str(tmp_path / "told"), "--flights", "20", "--json"]
    record = json.loads(CliRunner().invoke(app, asked).stdout)
    assert record["second"]["rocket"] == load(tmp_path / "told").name
    assert {row["first_state"] for row in record["rows"]} >= {"ok"}
    refused = CliRunner().invoke(app, ["beside", str(folder), "--with", "none"])
    assert isinstance(refused.exception, BadInputError)
    assert [each["key"] for each in refused.exception.records] == ["--with"]
    sheet = Page(folder).get("/beside?plan=morning&with=breezy")
    assert sheet.status == 200 and "morning beside breezy" in sheet.text


def test_the_ledger_leads_there(folder: Path) -> None:
    assert 'href="/beside?plan=' in Page(folder).get("/ledger").raw
