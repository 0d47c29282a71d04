"""Commands about the folder: new, demo, versions, restore."""

import io
import json
import os
from pathlib import Path

import pytest

import sample_results as sample
from goodflight import cli
from goodflight.cli import progress, shell
from goodflight.cli.commands import questions
from goodflight.page.server import Server
from goodflight.project import edit, load, versions
from goodflight.project.folder import Folder


def run(*words: object) -> int:
    return shell.run([str(word) for word in words])


def answers(tmp_path: Path, text: str) -> Path:
    file = tmp_path / "answers.toml"
    file.write_text(text)
    return file


def test_new_with_defaults_makes_a_project_that_loads(tmp_path: Path) -> None:
    assert run("new", tmp_path / "heron", "--defaults") == cli.DONE
    assert load(tmp_path / "heron").plans


def test_new_with_answers(tmp_path: Path) -> None:
    file = answers(tmp_path, 'name = "Heron"\nmass = "1.2 kg measured"\n')
    assert run("new", tmp_path / "heron", "--answers", file) == cli.DONE
    assert load(tmp_path / "heron").rocket().name == "Heron"


def test_new_from_a_pipe(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("Heron\n\n\n"))
    assert run("new", tmp_path / "heron") == cli.DONE
    assert load(tmp_path / "heron").rocket().name == "Heron"


def test_where_it_is_served_is_one_line_of_data(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Written before the server runs on: what listens then may be asked."""
    said: list[str] = []
    monkeypatch.setattr(progress, "ready_kernel", lambda: None)
    monkeypatch.setattr(Server, "run", lambda _, sockets: said.append(capsys.readouterr().out))
    assert run("serve", tmp_path / "heron", "--no-open", "--lan", "--json") == cli.DONE
    (line,) = said[0].splitlines()
    found = json.loads(line)
    (serve,) = (each for each in questions() if each.name == "serve")
    assert set(found) == set(serve.sections()["serve"])
    assert found["address"].startswith("http://127.0.0.1:") and found["process"] == os.getpid()
    assert found["from_others"].endswith("/code") and len(found["code"]) == 8
    run("serve", tmp_path / "heron", "--no-open", "--json")
    own = json.loads(said[1])
    assert own["from_others"] is None and own["code"] is None


def test_what_is_still_wrong_after_a_restore_is_data(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    edit(load(folder), "rocket.toml:part[nose].mass", "151 g measured")
    plans = folder / "plans.toml"
    plans.write_text(plans.read_text("utf-8").replace("site =", "sight ="), "utf-8")
    capsys.readouterr()
    assert run("restore", folder, "rocket.toml", 1, "--json") == cli.BAD_INPUT
    found = json.loads(capsys.readouterr().out)
    assert (found["file"], found["version"]) == ("rocket.toml", 1)
    assert {each["file"] for each in found["left"]} == {"plans.toml"}
    assert any(each["found"] == "nothing" and each["advice"] for each in found["left"])


def test_the_demo_as_data_opens_no_page(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("demo", tmp_path / "d", "--json", "--page") == cli.BAD_INPUT
    assert not (tmp_path / "d").exists()
    assert "opens no page" in json.loads(capsys.readouterr().out)["faults"][0]["found"]


def test_a_restore_in_the_moment_of_another_save_is_told(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    file, swap = folder / "rocket.toml", Folder.swap
    edit(load(folder), "rocket.toml:part[nose].mass", "151 g measured")
    theirs = file.read_text("utf-8") + "# theirs\n"

    def met(place: Folder, slot: str, name: str) -> None:
        file.write_text(theirs, "utf-8")
        swap(place, slot, name)

    monkeypatch.setattr(Folder, "swap", met)
    assert run("restore", folder, "rocket.toml", 1) == cli.INCOMPLETE
    said = " ".join(capsys.readouterr().err.split())
    assert "The change was written." in said and "kept: rocket.toml version 2" in said
    assert "fault" not in said
    assert "151 g measured" not in file.read_text("utf-8")
    assert versions(folder, "rocket.toml")[1].path.read_text("utf-8") == theirs


def test_new_names_every_bad_answer_at_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = answers(tmp_path, 'mass = "12,5 oz"\ndiametr = "79 mm"\nrail = 2.4\n')
    assert run("new", tmp_path / "heron", "--answers", file) == cli.BAD_INPUT
    shown = capsys.readouterr().err
    for words in ("3 faults", "did you mean diameter?", "12,5 oz", "answers.toml, rail"):
        assert words in shown
    assert not (tmp_path / "heron").exists()


@pytest.mark.parametrize("text", ["mass = ", 'mass = "3 kg" "x"', "\x00"])
def test_new_with_a_file_that_is_no_toml(tmp_path: Path, text: str) -> None:
    assert run("new", tmp_path / "heron", "--answers", answers(tmp_path, text)) == cli.BAD_INPUT
    assert run("new", tmp_path / "heron", "--answers", tmp_path / "none.toml") == cli.BAD_INPUT


@pytest.mark.parametrize(
    "words", [["order", "--check"], ["day", "--forecast"], ["new", "--answers"]]
)
def test_a_text_that_was_named_and_is_none_is_told_alike(
    folder: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str], words: list[str]
) -> None:
    (tmp_path / "latin").write_bytes("Höhe".encode("latin-1"))
    (tmp_path / "long").write_bytes(b" " * 1_000_001)
    name, option = words
    for file, found in {
        "none": "no such file",
        ".": "a folder",
        "latin": "byte 2 is no UTF-8",
        "long": "more than",
    }.items():
        where = tmp_path / "heron" if name == "new" else folder
        assert run(name, where, option, tmp_path / file) == cli.BAD_INPUT
        assert found in capsys.readouterr().err
    assert not (tmp_path / "heron").exists()


def test_new_refuses_a_rocket_that_cannot_be(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = answers(tmp_path, 'inner_diameter = "90 mm"\n')
    assert run("new", tmp_path / "heron", "--answers", file) == cli.BAD_INPUT
    assert "inner_diameter" in capsys.readouterr().err


def test_new_never_writes_into_a_folder_with_something_in_it(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    assert run("new", tmp_path, "--defaults") == cli.BAD_INPUT
    assert "a new or empty folder" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["notes.txt"]


def test_the_list_of_questions_is_an_answers_file(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("new", tmp_path / "heron", "--list") == cli.DONE
    file = answers(tmp_path, capsys.readouterr().out)
    assert run("new", tmp_path / "heron", "--answers", file) == cli.DONE


def test_demo_writes_once_and_shows_the_ledger(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    place = "goodflight.studies.questions.ledger.ledger"
    monkeypatch.setattr(place, lambda *_, **__: sample.ledger())
    monkeypatch.setattr(progress, "ready_kernel", lambda: None)
    assert run("demo", tmp_path / "d") == cli.DONE
    first = capsys.readouterr()
    assert "demo project written" in first.err and "Ledger: " in first.out
    before = (tmp_path / "d" / "rocket.toml").read_text() + "# mine\n"
    (tmp_path / "d" / "rocket.toml").write_text(before)
    assert run("demo", tmp_path / "d") == cli.DONE
    assert "already there" in capsys.readouterr().err
    assert (tmp_path / "d" / "rocket.toml").read_text() == before


def test_versions_and_restore(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from goodflight.project.saving import write_files

    folder = tmp_path / "heron"
    run("new", folder, "--defaults")
    capsys.readouterr()
    assert run("versions", folder) == cli.DONE
    assert "No earlier versions" in capsys.readouterr().out
    project = load(folder)
    first = project.texts["plans.toml"]
    write_files(project, {"plans.toml": first + "\n# a note\n"})
    assert run("versions", folder) == cli.DONE
    assert "plans.toml  version 1" in capsys.readouterr().out
    assert run("restore", folder, "plans.toml", "1") == cli.DONE
    assert load(folder).texts["plans.toml"] == first
    assert run("restore", folder, "plans.toml", "9") == cli.BAD_INPUT
    assert "no version 9" in capsys.readouterr().err
    assert run("versions", folder, "plans.toml", "--keep", "1") == cli.DONE
    assert "version 1  saved" in (shown := capsys.readouterr().out) and "  kept" in shown
    assert run("versions", folder, "plans.toml", "--release", "1") == cli.DONE
    assert "  kept" not in capsys.readouterr().out


@pytest.mark.parametrize(
    ("words", "key"),
    [
        (("ledger", "--json"), "DIR"),
        (("ledger", "x", "--json", "--flihgts", "3"), "--flihgts"),
        (("versions", "x", "--json", "--keep", "none"), "--keep"),
        (("fly", "x", "--units", "cubits", "--json"), "--units"),
        (("fyl", "x", "--json"), ""),
    ],
)
def test_wrong_words_are_told_in_json_too(
    words: tuple[str, ...], key: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(*words) == cli.BAD_INPUT
    shown = capsys.readouterr()
    answer = json.loads(shown.out)
    assert answer["error"] == "bad input" and not shown.err
    fault = answer["faults"][0]
    assert set(fault) == {"file", "line", "key", "found", "expected", "advice"}
    assert fault["key"] == key and fault["found"] and "--help" in fault["advice"]


def test_an_output_is_not_written_through_a_link(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from goodflight.cli.shell import BadInputError, write_file

    monkeypatch.chdir(tmp_path)
    (tmp_path / "mine").write_text("mine")
    (tmp_path / "heron.svg").symlink_to("mine")
    with pytest.raises(BadInputError):
        write_file(Path("heron.svg"), "<svg/>")
    assert (tmp_path / "mine").read_text() == "mine"
    write_file(Path("other.svg"), "longer")
    write_file(Path("other.svg"), "<svg/>")
    assert (tmp_path / "other.svg").read_text() == "<svg/>"
