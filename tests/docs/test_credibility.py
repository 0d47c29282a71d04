"""The rating of the program by itself: its evidence exists, and it says what it is."""

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
TEXT = (ROOT / "docs" / "credibility.md").read_text(encoding="utf-8")
FILES = re.findall(r"`([\w./-]+\.(?:py|md))`", TEXT)
ROWS = [line.split("|") for line in TEXT.splitlines() if re.match(r"\| \w.*\| [0-4] \|", line)]


@pytest.mark.parametrize("file", FILES)
def test_what_it_names_exists(file: str) -> None:
    assert (ROOT / file).is_file()


def test_eight_factors_each_with_evidence_and_what_is_missing() -> None:
    assert len(ROWS) == 8
    assert all(len(row[4].strip()) > 10 for row in ROWS)
    assert len(FILES) >= 12
    assert "from memory" in TEXT


def test_it_is_linked_from_the_readme() -> None:
    assert "docs/credibility.md" in (ROOT / "README.md").read_text(encoding="utf-8")
