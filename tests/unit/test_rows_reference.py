"""The reference of every way to fail, and the records and meanings that a result's fields make."""

from dataclasses import dataclass
from typing import Annotated

import pytest

from goodflight.outputs.json_ import to_json
from goodflight.outputs.ledger.reference import rows_text
from goodflight.outputs.record import record, sections
from goodflight.outputs.text_page import Terminal
from goodflight.studies.questions.rows import RowList, rows
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.rows import LIMIT_STATES


@pytest.fixture(scope="module")
def found() -> RowList:
    return rows()


def test_every_row_is_there_with_what_it_needs_and_its_sources(found: RowList) -> None:
    assert [row.key for row in found.rows] == [limit.key for limit in LIMIT_STATES]
    for row, limit in zip(found.rows, LIMIT_STATES, strict=True):
        assert [need.key for need in row.needs] == [each.key for each in limit.needs]
        assert [source.key for source in row.sources] == list(limit.sources)
        for need in row.needs:
            assert need.how and (need.minutes is None) == (not need.instrument)


def test_a_limit_of_the_code_is_named_not_guessed(found: RowList) -> None:
    angle = next(row for row in found.rows if row.key == "rail_angle")
    assert angle.by_code == ("limit",) and not angle.figures
    assert "the code set's figure" in rows_text(RowList((angle,)))


def test_the_text_names_every_row_and_fits_its_width(found: RowList) -> None:
    text = rows_text(found, Terminal(width=72))
    assert all(f"({row.key}" in text for row in found.rows)
    assert max(map(len, text.splitlines())) <= 72
    assert "{" not in text


def test_one_phase_or_a_refusal() -> None:
    assert {row.phase for row in rows("pad").rows} == {"pad"}
    with pytest.raises(StudyRefused, match="pod"):
        rows("pod")


@dataclass(frozen=True)
class CordKnot:
    strength_n: Annotated[float, "what it holds [N]"]


@dataclass(frozen=True)
class Told:
    knots: Annotated[tuple[CordKnot, ...], "every knot"]
    name: Annotated[str, "of the cord"]


@dataclass(frozen=True)
class Silent:
    mass_kg: float


def test_record_and_meanings_come_from_the_fields_of_a_result() -> None:
    assert record(Told((CordKnot(float("nan")),), "main"))["name"] == "main"
    assert '"strength_n": null' in to_json(record(Told((CordKnot(float("nan")),), "main")))
    assert sections(Told, "cord") == {
        "cord": {"knots": "every knot, see `cord knot`", "name": "of the cord"},
        "cord knot": {"strength_n": "what it holds [N]"},
    }
    with pytest.raises(TypeError, match="mass_kg: say what it means"):
        sections(Silent, "silent")
