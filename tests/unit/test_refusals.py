"""Refusals: one base, exit code 2, a clear sentence; bringing back on a broken project."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from goodflight import cli
from goodflight.cli import shell
from goodflight.project import (
    NoSuchPlan,
    ProjectErrors,
    SaveRefused,
    bring_back,
    load,
    versions,
    write_files,
)
from goodflight.project.demo import demo_files, write_demo
from goodflight.quantity import QuantityError, Refused
from goodflight.studies.case.project_case import case_of
from goodflight.studies.refusal import StudyRefused


@pytest.fixture
def heron(tmp_path: Path) -> Path:
    write_demo(tmp_path / "heron")
    return tmp_path / "heron"


def run(*words: object) -> int:
    return shell.run([str(word) for word in words])


def replaced(folder: Path, file: str, old: str, new: str) -> None:
    text = (folder / file).read_text(encoding="utf-8")
    assert old in text
    (folder / file).write_text(text.replace(old, new, 1), encoding="utf-8")


@pytest.mark.parametrize("kind", [QuantityError, ProjectErrors, SaveRefused, NoSuchPlan])
def test_every_refusal_has_the_one_base(kind: type[Exception]) -> None:
    assert issubclass(kind, Refused)
    assert issubclass(StudyRefused, Refused) and issubclass(shell.BadInputError, Refused)


def test_a_plan_that_is_not_there_says_which_are(heron: Path) -> None:
    with pytest.raises(KeyError, match="did you mean breezy") as caught:
        load(heron).plan("breezi")
    assert str(caught.value).startswith("no plan named 'breezi'; plans.toml has: morning, cloudy")


def test_a_study_without_an_answer_is_bad_input_on_every_command(
    heron: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    from goodflight.cli import progress

    monkeypatch.setattr(progress, "ready_kernel", lambda: None)
    text = (heron / "motors/H-b.toml").read_text(encoding="utf-8")
    plugged = [
        row for row in text.splitlines() if not row.startswith(("delay", "delay_out_allowed"))
    ]
    (heron / "motors/H-b.toml").write_text("\n".join(plugged), encoding="utf-8")
    plans = (heron / "plans.toml").read_text(encoding="utf-8")
    plans = plans.replace('deployment = "delay"', 'deployment = "altimeter"')
    plans = "\n".join(row for row in plans.splitlines() if not row.startswith("delay_out"))
    (heron / "plans.toml").write_text(plans, encoding="utf-8")
    assert run("delay", heron) == cli.BAD_INPUT
    shown = capsys.readouterr().err
    assert "motor H-b is plugged: no delay to shorten" in shown and "a motor with a delay" in shown
    assert run("delay", heron, "--json") == cli.BAD_INPUT
    answer = json.loads(capsys.readouterr().out)
    assert sorted(answer["faults"][0]) == sorted(
        ["file", "line", "key", "found", "expected", "advice"]
    )


def test_what_physics_cannot_take_is_told_as_a_refusal(
    heron: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from goodflight.studies.case import project_case

    def refuses(*_: object) -> None:
        raise ValueError("the fin outline has no area; its corners lie on one line.")

    monkeypatch.setattr(project_case, "aero_tables", refuses)
    with pytest.raises(StudyRefused, match="its corners lie on one line") as caught:
        case_of(load(heron))
    assert (caught.value.file, caught.value.key) == ("plans.toml", "plan[morning]")


def test_a_version_comes_back_on_a_broken_project(
    heron: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    first = demo_files()["rocket.toml"]
    write_files(load(heron), {"rocket.toml": first + "\n# a note\n"})
    (heron / "rocket.toml").write_bytes(b"\xff\xfe not a rocket")
    assert run("restore", heron, "rocket.toml", 1) == cli.DONE
    assert load(heron).texts["rocket.toml"] == first
    assert versions(heron, "rocket.toml")[-1].path.read_bytes() == b"\xff\xfe not a rocket"
    assert "version 1 again" in capsys.readouterr().out


def test_what_is_still_wrong_after_bringing_back_is_told(
    heron: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    write_files(load(heron), {"rocket.toml": demo_files()["rocket.toml"] + "\n# a note\n"})
    (heron / "rocket.toml").unlink()
    replaced(heron, "plans.toml", 'motor = "H-b"', 'motor = "H-x"')
    assert run("restore", heron, "rocket.toml", 1) == cli.BAD_INPUT
    assert '"H-x"' in capsys.readouterr().err
    assert (heron / "rocket.toml").exists()


def test_a_sound_project_is_not_broken_by_bringing_back(heron: Path) -> None:
    old = demo_files()["plans.toml"]
    new = old.replace('name = "big motor"', 'name = "large"')
    write_files(load(heron), {"plans.toml": new})
    kept = versions(heron, "plans.toml")[0].path
    kept.write_text(old.replace('motor = "H-b"', 'motor = "H-x"'), encoding="utf-8")
    with pytest.raises(ProjectErrors):
        bring_back(heron, "plans.toml", 1)
    assert (heron / "plans.toml").read_text(encoding="utf-8") == new


@pytest.mark.parametrize("file", ["../other/rocket.toml", "/etc/passwd", "none.toml"])
def test_a_version_outside_the_project_is_refused(heron: Path, file: str) -> None:
    with pytest.raises(SaveRefused, match="has no version 1"):
        bring_back(heron, file, 1)


def test_versions_and_restore_name_a_missing_folder(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("versions", tmp_path / "none") == cli.BAD_INPUT
    assert "no such folder" in capsys.readouterr().err
    assert run("restore", tmp_path / "none", "rocket.toml", 1) == cli.BAD_INPUT
    assert "no such folder" in capsys.readouterr().err


def test_a_disk_that_refuses_is_a_refusal_of_the_save(
    heron: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    project = load(heron)

    def full(*_: object, **__: object) -> None:
        raise OSError(28, "No space left on device", str(heron / "rocket.toml"))

    monkeypatch.setattr(os, "replace", full)
    with pytest.raises(SaveRefused, match="No space left on device; expected a disk with room"):
        write_files(project, {"rocket.toml": project.texts["rocket.toml"] + "# x\n"})
    assert (heron / "rocket.toml").read_text(encoding="utf-8") == project.texts["rocket.toml"]


def test_a_demo_that_cannot_be_written_is_bad_input(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "taken").write_text("a file")
    assert run("demo", tmp_path / "taken" / "inside") == cli.BAD_INPUT
    assert "Not a directory" in capsys.readouterr().err


def test_a_closed_pipe_is_quiet(heron: Path) -> None:
    words = [sys.executable, "-m", "goodflight", "new", str(heron), "--list"]
    source = str(Path(cli.__file__).parents[2])
    with subprocess.Popen(
        words,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env={**os.environ, "PYTHONPATH": source},
    ) as process:
        assert process.stdout is not None and process.stderr is not None
        process.stdout.close()
        assert process.stderr.read() == b""
        assert process.wait(60) == cli.DONE
