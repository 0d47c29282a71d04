"""Texts that are no TOML: every bad line named, and no good one."""

import pytest

from goodflight.project.demo import demo_files
from goodflight.project.syntax import syntax_faults

DEMO = demo_files()["rocket.toml"]


def lines_named(text: str) -> list[int]:
    return [fault.line for fault in syntax_faults("rocket.toml", text)]


@pytest.mark.parametrize(
    ("text", "lines"),
    [
        ('a = 1\nmass = 12 g\nb = 2\nname = "x\nc = 3\nd =\n', [2, 4, 6]),
        ('[[part]\nname = "a"\n[[part]]\nname = "b"\nmass = 3 kg\n', [1, 5]),
        ("a = 1\na = 2\nb = 3 mm\n", [2, 3]),
        # consequences of a line taken out are not named
        ('rails = ["2.4 m" "3 m",\n"4 m"]\nb = 2\n', [1]),
        ('a = """\nlong\n', [3]),
        ("[[plan]]\n[plan.day]\nw = 1\n[[plan]\n[plan.day]\nw = 2\n", [4]),
        ("a = [1, 2\nb = 3\n", [2]),
        ("a = 5 mm\r\nb = 6 mm\r\n", [1, 2]),
    ],
)
def test_lines_named(text: str, lines: list[int]) -> None:
    assert lines_named(text) == lines


def test_each_single_line_spoilt_is_the_only_one_named() -> None:
    """Quotes taken off any one value of the demo: that line is named and no other."""
    rows = DEMO.splitlines()
    spoilt = 0
    for i, row in enumerate(rows):
        if ' = "' in row and not row.startswith(("#", "holds")):
            text = "\n".join([*rows[:i], row.replace('"', "", 1), *rows[i + 1 :]])
            assert lines_named(text) == [i + 1], row
            spoilt += 1
    assert spoilt > 100


def test_many_spoilt_lines_are_all_named_up_to_a_limit() -> None:
    rows = DEMO.splitlines()
    bad = [i for i, row in enumerate(rows) if row.startswith("mass = ")]
    for i in bad:
        rows[i] = rows[i].replace('"', "")
    assert lines_named("\n".join(rows)) == [i + 1 for i in bad][:20]


def test_deep_brackets_are_a_fault() -> None:
    assert "nested too deeply" in syntax_faults("x.toml", "a = " + "[" * 100_000)[0].advice
