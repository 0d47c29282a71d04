"""The story in docs/season.md is what the program does: files are written, commands run in order.

`RENEW_GOLDEN=1 pytest tests/docs/test_season.py` writes the outputs anew; read the difference. A
block "toml FILE" is a file, "diff FILE" a change to one, "console" a command with its output. In an
output a line "…" stands for lines left out; what is shown must stand there, in that order. Outputs
are regression values.
"""

import os
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from goodflight.cli.app import app

HOME = Path(__file__).resolve().parents[2]
PAGE = HOME / "docs" / "season.md"
BESIDE = HOME / "docs" / "season"
BLOCK = re.compile(r"^```(console|(?:toml|csv|diff) \S+)\n(.*?)^```$", re.M | re.S)
FIGURE = re.compile(r"\d+(?:\.\d+)?")
LEFT_OUT = "…"


def written(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")


def changed(path: Path, change: str) -> None:
    """Lines "-" and " " are found as they stand and become those with "+" and " "."""
    for hunk in change.split("@@\n"):
        lines = [(line[:1], line[1:]) for line in hunk.splitlines()]
        before = "".join(f"{words}\n" for sign, words in lines if sign != "+")
        after = "".join(f"{words}\n" for sign, words in lines if sign != "-")
        text = path.read_text(encoding="utf-8")
        assert text.count(before) >= 1, f"{path.name} has not:\n{before}"
        path.write_text(text.replace(before, after), encoding="utf-8")


def answered(command: str) -> list[str]:
    """Lines that a command prints, without trailing blanks; its progress is not among them."""
    name, *arguments = re.findall(r'"([^"]*)"|(\S+)', command)
    if name[1] == "cp":
        shutil.copy(*(plain for _, plain in arguments))
        return []
    assert name[1] == "goodflight", command
    result = CliRunner().invoke(app, [quoted or plain for quoted, plain in arguments])
    assert result.exit_code == 0, f"{command}\n{result.output}"
    return [line.rstrip() for line in result.stdout.splitlines()]


def stretches(shown: list[str]) -> list[list[str]]:
    """What is shown, in stretches between lines left out; an empty one for each of those."""
    found: list[list[str]] = []
    for line in shown:
        if line == LEFT_OUT:
            found.append([])
        elif found and found[-1]:
            found[-1].append(line)
        else:
            found.append([line])
    return found


def same(a: str, b: str) -> bool:
    """The same words; figures may be off by what another processor's last digits make of a few
    hundred flights: 3 %, or two units of the last digit shown."""
    if FIGURE.sub("0", a) != FIGURE.sub("0", b):
        return False
    pairs = list(zip(FIGURE.findall(a), FIGURE.findall(b), strict=True))
    return all(
        abs(float(x) - float(y)) <= max(0.03 * abs(float(x)), 2.001 * 10.0 ** -_decimals(x))
        for x, y in pairs
    )


def _decimals(figure: str) -> int:
    return len(figure.partition(".")[2])


def place_of(each: list[str], lines: list[str], at: int) -> int | None:
    """Where a stretch stands from a line on; None = nowhere."""
    ends = range(at, len(lines) - len(each) + 1)
    return next((n for n in ends if all(map(same, each, lines[n : n + len(each)]))), None)


def missing(shown: list[str], lines: list[str]) -> Iterator[str]:
    """Stretches that do not stand in the output, each after the one before."""
    at = 0
    for each in filter(None, stretches(shown)):
        place = place_of(each, lines, at)
        if place is None:
            yield "\n".join(each)
        else:
            at = place + len(each)


def renewed(shown: list[str], lines: list[str]) -> list[str]:
    """The same stretches of the new output, found by their first and last line but for figures."""
    found: list[str] = []
    plain = [FIGURE.sub("0", line) for line in lines]
    at = 0
    for each in stretches(shown):
        if not each:
            found.append(LEFT_OUT)
            continue
        first, last = (FIGURE.sub("0", line) for line in (each[0], each[-1]))
        assert first in plain[at:], f"write this stretch anew: {each[0]}"
        place = place_of(each, lines, at)
        begin = plain.index(first, at) if place is None else place
        end = plain.index(last, begin) + 1 if last in plain[begin:] else begin + len(each)
        found += lines[begin:end]
        at = end
    return found


def test_every_command_of_the_story_answers_as_printed(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    for file in BESIDE.iterdir():
        written(tmp_path / file.name, file.read_text(encoding="utf-8"))
    wrong: list[str] = []

    def block(found: re.Match[str]) -> str:
        kind, _, name = found[1].partition(" ")
        if kind in ("toml", "csv"):
            written(tmp_path / name, found[2])
        elif kind == "diff":
            changed(tmp_path / name, found[2])
        else:
            first, *shown = found[2].splitlines()
            lines = answered(first.removeprefix("$ "))
            if os.environ.get("RENEW_GOLDEN"):
                return "```console\n" + "\n".join([first, *renewed(shown, lines)]) + "\n```"
            wrong.extend(f"{first}\n{each}" for each in missing(shown, lines))
        return found[0]

    text = PAGE.read_text(encoding="utf-8")
    told = BLOCK.sub(block, text)
    if os.environ.get("RENEW_GOLDEN"):
        PAGE.write_text(told, encoding="utf-8")
    assert not wrong, "\n\n".join(wrong)
    assert len(re.findall(r"^\$ ", text, re.M)) >= 10


def test_what_is_not_printed_is_found() -> None:
    lines = ["a", "b 1.00", "c 100"]
    assert not list(missing(["a", LEFT_OUT, "c 102"], lines))
    assert list(missing(["c 100", LEFT_OUT, "a"], lines)) == ["a"]
    assert list(missing(["b 1.05"], lines)) == ["b 1.05"]
    assert list(missing(["c 110"], lines)) == ["c 110"]
    assert renewed([LEFT_OUT, "b 2.00"], lines) == [LEFT_OUT, "b 1.00"]
