"""The answer as one file to read: alone, whole, stamped; and the commands that send and open."""

import base64
import hashlib
import re
from dataclasses import replace
from functools import partial
from html import unescape
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from goodflight import cli
from goodflight.cli import shell
from goodflight.outputs.field_sheets.evidence_words import answer_words, number_words
from goodflight.outputs.ledger import row_words
from goodflight.page import send_page, sent_file
from goodflight.page.app import make_app
from goodflight.project import Project, edit, load
from goodflight.project.archive import open_archive
from goodflight.studies.bench.stamps import of_answer
from goodflight.studies.cautions import caution
from goodflight.studies.field.card import card

DAY = "2026-03-01"


@pytest.fixture(scope="module")
def answer(demo: Project) -> sent_file.Answer:
    return sent_file.answer_of(demo, None, 60, remedies=False)


@pytest.fixture(scope="module")
def html(demo: Project, answer: sent_file.Answer) -> str:
    return sent_file.sent_html(demo, answer, "metric", DAY)


def test_it_asks_for_nothing_and_runs_nothing(html: str) -> None:
    (policy,) = re.findall(r'Content-Security-Policy" content="([^"]*)"', html)
    (style,) = re.findall(r"<style>(.*?)</style>", html, re.S)
    digest = base64.b64encode(hashlib.sha256(style.encode()).digest()).decode()
    assert "default-src &#39;none&#39;" in policy and f"&#39;sha256-{digest}&#39;" in policy
    assert "script-src" not in policy
    assert not re.search(r"<(script|form|input|button|iframe|object|embed|link|base)\b", html)
    assert set(re.findall(r'href="(.)', html)) == {"#"}
    assert not re.search(r"""(?:src|url\()\s*=?\s*["']?(?!data:)[a-z/]""", style + html)
    assert not re.search(r"\s(style|on[a-z]+)=", html)
    assert set(re.findall(r"https?://[^\s\"'<]+", html)) <= {"http://www.w3.org/2000/svg"}


def test_every_link_leads_to_a_place_in_it(html: str) -> None:
    places = set(re.findall(r'id="([^"]+)"', html))
    assert not set(re.findall(r'href="#([^"]+)"', html)) - places


def test_it_shows_what_the_ledger_says(html: str, answer: sent_file.Answer) -> None:
    plain = html.replace("&#39;", "'").replace("&amp;", "&").replace("\u00a0", " ")
    for row in answer.ledger.rows:
        assert row.title in plain and row_words.answer(row) in plain, row.key
    unknown = [row for row in answer.ledger.rows if row.state == "unknown"]
    assert unknown and all(row.advice.replace('"', "&#34;") in plain for row in unknown)
    for each in answer.ledger.not_here:
        assert each.why in plain
    for key in ("misfire", "landed", "delay"):
        assert caution(key) in plain
    assert "No changes were tried" in plain and "none of the changes" not in plain
    assert (
        "range safety officer decide" in plain
        and "rocket, motors and field are invented" in plain.lower()
    )


def test_it_answers_what_the_inspector_asks(html: str, answer: sent_file.Answer) -> None:
    plain = unescape(html).replace("\u00a0", " ")
    assert len(answer.evidence.answers) == 35 and len(answer.evidence.numbers) == 8
    for each in answer.evidence.answers:
        assert each.question in plain and answer_words(each) in plain, each.key
    for number in answer.evidence.numbers:
        assert number.title in plain and number_words(number)[0] in plain


def test_it_is_dated_stamped_and_under_a_megabyte(html: str, demo: Project) -> None:
    stamp = of_answer(demo, "morning").stamp
    assert html.count(stamp) >= 3 and f"made {DAY}" in html
    assert len(html.encode()) < 1_000_000


def test_the_same_answer_gives_the_same_text(
    html: str, demo: Project, answer: sent_file.Answer
) -> None:
    assert sent_file.sent_html(demo, answer, "metric", DAY) == html


def test_the_stamp_follows_every_entry_but_those_of_other_plans(folder: Path) -> None:
    before = of_answer(load(folder), "morning").stamp
    file = folder / "plans.toml"
    file.write_text(file.read_text("utf-8") + "# wind rises at noon\n", "utf-8")
    edit(load(folder), "plans.toml:plan[midday].rail", "3.0 m")
    assert of_answer(load(folder), "morning").stamp == before
    edit(load(folder), "rocket.toml:part[nose].mass", "151 g measured")
    assert of_answer(load(folder), "morning").stamp != before


def test_a_plugged_motor_has_no_delays_to_send(demo: Project, answer: sent_file.Answer) -> None:
    parts = replace(answer, delays=None)
    html = sent_file.sent_html(demo, parts, "imperial", DAY)
    assert 'id="delays"' not in html and 'href="#h-delays"' not in html and " in " in html


def test_the_commands_send_and_open(
    folder: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.chdir(tmp_path)
    assert shell.run(["send", str(folder), "--project"]) == cli.DONE
    assert "demo.zip" in capsys.readouterr().out
    assert shell.run(["open", "demo.zip", "there"]) == cli.DONE
    assert "goodflight ledger there" in capsys.readouterr().out
    assert load(tmp_path / "there").hashes == load(folder).hashes
    assert shell.run(["open", "demo.zip", "there"]) == cli.BAD_INPUT
    assert "not empty" in capsys.readouterr().err
    assert shell.run(["send", str(folder), "--flights", "20", "-o", "sent.html"]) == cli.DONE
    assert "sent.html" in capsys.readouterr().out
    assert (tmp_path / "sent.html").read_text("utf-8").startswith("<!doctype html>")


def test_the_page_sends_what_the_files_say_not_what_is_tried(
    folder: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    few = partial(card, winds=(1.0,), tilts=(), flights=20)
    monkeypatch.setattr(send_page, "card", few)
    app = make_app(folder, 8311, flights=40)
    with TestClient(app, base_url="http://127.0.0.1:8311") as client:
        got = {
            name: client.get(f"/send/{name}?plan=midday&delay_out=3 s")
            for name in ("answer.html", "card.html", "project.zip")
        }
    for name, each in got.items():
        assert each.status_code == 200
        assert each.headers["content-disposition"] == f'attachment; filename="{name}"'
    assert "plan midday" in got["answer.html"].text and "40 flights" in got["answer.html"].text
    assert "plan midday" in got["card.html"].text
    (tmp_path / "got.zip").write_bytes(got["project.zip"].content)
    assert open_archive(tmp_path / "got.zip", tmp_path / "there").hashes == load(folder).hashes


def test_python_sends_the_same(demo: Project) -> None:
    html = sent_file.send(demo, "midday", flights=20, day=DAY, remedies=False)
    assert f"plan midday, {DAY}" in html
