"""Two plans, or two rockets, side by side say what each ledger says alone."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from goodflight import load
from goodflight.cli.app import app
from goodflight.cli.shell import BadInputError
from goodflight.outputs.ledger.beside_text import beside_text, telling
from goodflight.outputs.text_page import Terminal
from goodflight.project import Project, write_files, write_project
from goodflight.project.archive import archive
from goodflight.project.newcomer import project_files
from goodflight.studies.questions.beside import beside
from goodflight.studies.questions.ledger import ledger
from page_client import Page, Sheet
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


def sent(page: Page, *files: tuple[str, bytes]) -> Sheet:
    """Files of a form, as a browser sends a folder or one zip file."""
    form = [("file", (name, raw, "application/octet-stream")) for name, raw in files]
    return Sheet(page.client.post("/beside/other?plan=morning", files=form))


def test_another_rocket_is_sent_as_a_folder_or_a_zip_file_and_never_written(
    folder: Path, tmp_path: Path
) -> None:
    """One shape of both: the second rocket's own plan, the same answer as in the terminal."""
    told = project_files(MOTOR_TOLD)
    write_project(tmp_path / "told", told)
    page, before = Page(folder), sorted(each.name for each in tmp_path.rglob("*"))
    files = [(f"told/{name}", text.encode()) for name, text in told.items()]
    stray = ("told/.git/config", b"\xff"), ("told/photo.jpg", b"\xff\xd8")
    as_folder = sent(page, *files, *stray)
    as_zip = sent(page, ("told.zip", archive(tmp_path / "told")))
    name = load(tmp_path / "told").name
    for sheet in (as_folder, as_zip):
        assert sheet.status == 200 and f"morning beside {name}, first flight" in sheet.text
        assert "height of apogee" in sheet.text and "anything fails" in sheet.text
    assert sorted(each.name for each in tmp_path.rglob("*")) == before
    assert "told" not in {each.name for each in folder.rglob("*")}


@pytest.mark.parametrize(
    ("files", "words"),
    [
        ([("x.zip", b"PK but none")], "no sound zip file"),
        ([("x/rocket.toml", b"name = 3")], "rocket.toml"),
        ([("x/rocket.toml", b"\xff")], "UTF-8"),
        ([("x/photo.jpg", b""), ("x/a", b"")], "no such file"),
        ([("x/rocket.toml", b"#" * 9_000_000)], "bytes"),
    ],
)
def test_what_is_no_project_is_refused_in_words(
    folder: Path, files: list[tuple[str, bytes]], words: str
) -> None:
    sheet = sent(Page(folder), *files)
    assert sheet.status == 422 and words in sheet.text and "anything fails" in sheet.text


def test_a_rocket_beside_what_it_was(folder: Path) -> None:
    """Twice the nose's mass: the earlier file is lighter by what the files say, 141 g."""
    (folder / "weighings.toml").unlink()  # of the rocket as it was
    project = load(folder)
    old = project.texts["rocket.toml"]
    write_files(project, {"rocket.toml": old.replace("144 g", "285 g", 1)})
    page = Page(folder)
    sheet = page.get("/beside?plan=morning&of=version:rocket.toml:1")
    assert sheet.status == 200 and "with rocket.toml version 1" in sheet.text
    asked = ["beside", str(folder), "--was", "rocket.toml", "1", "--flights", "20", "--json"]
    record = json.loads(CliRunner().invoke(app, asked).stdout)
    assert record["second"]["version"] == "rocket.toml version 1"
    mass = next(each for each in record["figures"] if each["key"] == "liftoff_mass_kg")
    assert mass["first"] - mass["second"] == pytest.approx(0.141)
    for wrong in ("version:rocket.toml:9", "version:../x:1", "sent:0", "sent:", "x"):
        found = page.get(f"/beside?plan=morning&of={wrong}")
        assert "morning beside" in found.text and found.status in (200, 422)


def test_the_ledger_leads_there(folder: Path) -> None:
    assert 'href="/beside?plan=' in Page(folder).get("/ledger").raw
