"""Folders and files as they are damaged in life: each gives its own fault and no other."""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from goodflight import cli
from goodflight.cli import shell
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.project import Fault, ProjectErrors, load
from goodflight.project.demo import write_demo
from goodflight.project.outlines import read_outline

Damage = Callable[[Path], object]


@pytest.fixture
def heron(tmp_path: Path) -> Path:
    write_demo(tmp_path / "hé ron")
    return tmp_path / "hé ron"


def faults_of(folder: Path) -> tuple[Fault, ...]:
    with pytest.raises(ProjectErrors) as caught:
        load(folder)
    return caught.value.faults


def put(file: str, old: str, new: str) -> Damage:
    def damage(folder: Path) -> None:
        text = (folder / file).read_text(encoding="utf-8")
        assert old in text
        (folder / file).write_text(text.replace(old, new, 1), encoding="utf-8")

    return damage


def raw(file: str, content: bytes) -> Damage:
    return lambda folder: (folder / file).write_bytes(content)


def looped(folder: Path) -> None:
    (folder / "rocket.toml").unlink()
    os.symlink("rocket.toml", folder / "rocket.toml")


def in_the_way(folder: Path) -> None:
    (folder / "rocket.toml").unlink()
    (folder / "rocket.toml").mkdir()


@pytest.mark.parametrize(
    ("damage", "file", "found"),
    [
        (raw("motors/H-b.csv", b"\x80\x81"), "motors/H-b.csv", "the byte 0x80"),
        (raw("motors/H-b.toml", b"\x80\x81"), "motors/H-b.toml", "the byte 0x80"),
        (raw("motors/H-b.csv", b"0" * 10_000_000), "motors/H-b.csv", "10000000 bytes"),
        (raw("motors/H-b.csv", b""), "motors/H-b.csv", "an empty file"),
        (raw("plans.toml", "é".encode("latin-1")), "plans.toml", "the byte 0xe9"),
        (raw("plans.toml", "a".encode("utf-16")), "plans.toml", "the byte 0xff"),
        (raw("plans.toml", b""), "plans.toml", "no plans"),
        (looped, "rocket.toml", "a link, which is not followed"),
        (in_the_way, "rocket.toml", "a folder"),
        (put("rocket.toml", "count = 3", "count = " + "9" * 6000), "rocket.toml", "the line"),
        (put("rocket.toml", '"240 mm"', '"1e999 mm"'), "rocket.toml", '"1e999 mm"'),
        (put("rocket.toml", "joint_efficiency = 0.5", "joint_efficiency = inf"),
         "rocket.toml", '"inf"'),
        (put("rocket.toml", '"Fieldfare"', '"a\\u001b[31mred"'), "rocket.toml", '"a\\x1b[31mred"'),
        (put("rocket.toml", '"Fieldfare"', f'"{"x" * 300}"'), "rocket.toml", '"' + "x" * 80 + '…"'),
        (put("rocket.toml", "name = ", "deep = " + "[" * 200 + "]" * 200 + "\nname = "),
         "rocket.toml", ""),
        (put("motors/H-b.csv", "0.12,205", "0.12,-205"), "motors/H-b.csv", "-205 N"),
        (put("motors/H-b.csv", "0.12,205", "0.12,1e400"), "motors/H-b.csv", ""),
        (raw("sites/larkrise.geojson", b"[" * 100_000), "sites/larkrise.geojson", "brackets"),
        (raw("sites/larkrise.geojson", b"9" * 6000), "sites/larkrise.geojson", "brackets"),
        (put("rocket.toml", "[surface]", "part = 3\n[surface]"), "rocket.toml", "the key part"),
        (put("plans.toml", 'rail = "2.4 m"', 'rail = "2.4 m"\nrail_stop = "2.5 m"'),
         "plans.toml", '"2.5 m"'),
    ],
)  # fmt: skip
def test_one_fault_of_the_file_that_is_damaged(
    heron: Path, damage: Damage, file: str, found: str
) -> None:
    damage(heron)
    faults = faults_of(heron)
    assert [fault.file for fault in faults] == [file], [fault.sentence for fault in faults]
    assert faults[0].found.startswith(found)


def test_an_empty_rocket_does_not_put_the_plans_in_doubt(heron: Path) -> None:
    (heron / "rocket.toml").write_text("")
    assert {fault.file for fault in faults_of(heron)} - {"weighings.toml", "build.toml"} == {
        "rocket.toml"
    }


@pytest.mark.parametrize("mark", [b"\xef\xbb\xbf", b""])
def test_other_line_ends_and_marks_of_encoding_load(heron: Path, mark: bytes) -> None:
    plain = load(heron).rocket()
    for path in heron.rglob("*"):
        if path.suffix in (".toml", ".csv", ".geojson"):
            path.write_bytes(mark + path.read_bytes().replace(b"\n", b"\r\n"))
    assert load(heron).rocket() == plain


def test_links_in_a_circle_do_not_hang(heron: Path) -> None:
    os.symlink("..", heron / "motors" / "up")
    assert load(heron).plans
    os.symlink(heron, heron / "flights")
    assert [fault.file for fault in faults_of(heron)] == ["flights"]


def test_a_file_cannot_steer_the_terminal(heron: Path, capsys: pytest.CaptureFixture[str]) -> None:
    put("rocket.toml", '"Fieldfare"', '"a\\u001b[31mred"')(heron)
    assert shell.run(["fly", str(heron)]) == cli.BAD_INPUT
    assert "\x1b" not in capsys.readouterr().err
    sheet = TextPage(Terminal())
    sheet.line("note\x1b[2J\x9b", ("\x07", "signal"))
    assert sheet.render() == "note·[2J··\n"


def test_an_outline_that_ends_too_early_is_told_at_its_last_line() -> None:
    """Found by the long fuzz: the end of the text lies on a line of its own."""
    for text in ('{"type": "FeatureCollection",\n', "[\n\n", ""):
        _, faults = read_outline("sites/f.geojson", text, False, (0.0, 0.0))
        assert faults and faults[0].line == text.count("\n") + 1, text
