"""What a row asks for names no file and no key: the page has its box, the terminal adds where.

Both come from the entries of the row (`Row.asks`), so that neither can name another place.
"""

import re
from pathlib import Path
from typing import Final

import pytest

from emptied import emptied
from goodflight.outputs.ledger.basis_words import formula, sources
from goodflight.outputs.ledger.text import ledger_text
from goodflight.outputs.words import how_words
from goodflight.project import Project, read_project
from goodflight.project.demo import demo_files
from goodflight.studies.questions.ledger import ledger
from goodflight.studies.results import Ledger
from page_client import Page

KEY: Final = re.compile(r"\w+\.toml\b|\b[a-z]+(?:_[a-z]+)+\b|\[\[?[a-z]\w*\]|\b[a-z]+ = \"")
ADDRESS: Final = ("/ledger", "/field", "/scale", "/bench")


def asked_of(project: Project) -> Ledger:
    return ledger(project, flights=20, remedies=False)


@pytest.fixture(scope="module")
def bare() -> Ledger:
    return asked_of(emptied())


def test_no_row_names_a_file_or_a_key(bare: Ledger) -> None:
    assert bare.measure_next and not [
        each.key for each in bare.measure_next if KEY.search(how_words(each))
    ]
    waiting = [row for row in bare.rows if row.state == "unknown"]
    assert len(waiting) > 20
    for row in (*bare.rows, *asked_of(read_project(demo_files())).rows):
        said = [row.advice, *map(str, row.warnings), formula(row.basis), *sources(row.basis)]
        said += [each.label for each in row.asks]
        assert [words for words in said if KEY.search(words)] == [], row.key


def test_the_terminal_says_where_the_first_of_them_is_written(bare: Ledger) -> None:
    text = re.sub(r"\s+", " ", ledger_text(bare))
    shown = [
        each
        for row in bare.rows
        for each in row.asks[:1]
        if row.state == "unknown" and each.kind != "part"
    ]
    assert len(shown) > 20
    assert sum(f"({each.place} in {each.file}" in text for each in shown) > 20


def test_pages_of_an_emptied_project_name_neither(tmp_path: Path) -> None:
    for name, text in emptied().texts.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, "utf-8")
    page = Page(tmp_path)
    for address in ADDRESS:
        text = re.sub(r"(?s)<(script|style)\b.*?</\1>|<[^>]+>", " ", page.get(address).raw)
        assert not KEY.search(text), (address, KEY.search(text))
