"""What was kept is one list, in build.toml, on the page and in the terminal, ticked off."""

import json
from pathlib import Path

import pytest
from click.testing import CliRunner

from goodflight import load
from goodflight.cli import BAD_INPUT, shell
from goodflight.cli.app import app
from goodflight.project import SaveRefused
from goodflight.project.part_forms import keep
from goodflight.project.todo import tick_todos
from goodflight.studies.questions.todo import todo
from page_client import Page

WEBBING = [("rocket.toml:part[cord].width", "25 mm")]
FIRST = [("use 25 mm webbing", "purchase")]


def kept(folder: Path) -> None:
    keep(load(folder), WEBBING, [("tighten the links", "minutes"), *FIRST])


def test_what_is_kept_is_listed_once_purchases_first(folder: Path) -> None:
    before = len(todo(load(folder)).left)
    kept(folder)
    kept(folder)  # the same again, not done yet: not twice
    found = todo(load(folder))
    assert [each.title for each in found.left][:1] == ["use 25 mm webbing"]
    assert len(found.left) == before + 2
    number = found.left[0].number
    tick_todos(load(folder), {number: True})
    assert [each.title for each in todo(load(folder)).done] == ["use 25 mm webbing"]
    kept(folder)  # done, and kept once more: it is to be done again
    assert len(todo(load(folder)).left) == before + 2
    with pytest.raises(SaveRefused, match="nothing was written"):
        tick_todos(load(folder), {99: True})


def test_the_terminal_lists_and_ticks(folder: Path) -> None:
    kept(folder)
    run = CliRunner().invoke
    assert "Still to buy or do" in run(app, ["todo", str(folder)]).output
    done = run(app, ["todo", str(folder), "--done", "2", "--json"])
    assert [each["number"] for each in json.loads(done.output)["done"]] == [2]
    assert "□ 2" in run(app, ["todo", str(folder), "--again", "2"]).output
    assert shell.run(["todo", str(folder), "--done", "9"]) == BAD_INPUT


def test_the_page_keeps_into_the_list_and_one_undo_takes_both_back(folder: Path) -> None:
    page = Page(folder)
    assert 'id="to-do"' not in page.get("/ledger").raw
    text = page.text("plans.toml")
    tried = "/ledger?plan=midday&rail=3&wind=2"
    page.post("/keep?plan=midday&rail=3&wind=2", page.get(tried).form("/keep"))
    assert page.text("plans.toml") != text
    found = todo(load(folder)).left
    assert len(found) == 1 and "rail" in found[0].title  # the wind is not for the builder
    form = page.get("/ledger").form("/todo")
    assert page.post("/todo", form).status == 200
    assert not todo(load(folder)).left
    for _ in range(2):
        page.post("/undo", page.get("/ledger").form("/undo"))
    assert page.text("plans.toml") == text and not todo(load(folder)).done


def test_a_long_title_with_marks_is_kept_as_it_is(folder: Path) -> None:
    """Titles of levers are sentences: longer than a name, with colons and brackets."""
    title = 'fit a 25 mm guard where it bears on the edge, or: "webbing" of that width [as long]'
    keep(load(folder), WEBBING, [(title, "purchase")])
    assert [each.title for each in todo(load(folder)).left][:1] == [title]
