"""What no calculation sees: one list in terminal, page, paper and JSON, apart from the chance."""

from pathlib import Path

import pytest

from goodflight.outputs.ledger.json_ import ledger_record
from goodflight.outputs.ledger.text import ledger_text
from goodflight.outputs.text_page import Terminal
from goodflight.physics.people import left_out, missed_by_friend
from goodflight.physics.sources import SOURCES
from goodflight.project.demo import write_demo
from goodflight.studies.questions.ledger import Beside, ledger_of
from goodflight.studies.unseen import UNSEEN, second_reader
from page_client import Page
from sample_case import sample_case


def test_rates_as_published() -> None:
    """THERP: (1 + 6 p) / 7, a seventh at p = 0 (seen second-hand). 40 items at 0.003: 0.113."""
    assert missed_by_friend(0.0) == pytest.approx(1.0 / 7.0)
    assert missed_by_friend(1.0) == 1.0
    assert left_out(0.003, 40) == pytest.approx(0.113, abs=5e-4)
    assert left_out(0.0003, 40) == pytest.approx(0.012, abs=5e-4)  # a reader missing 1 in 10


def test_counts_as_published() -> None:
    """Student flights of 2018: tangled 5 of 44, bursts 0 of 44; Wilson ends by hand."""
    by_key = {each.key: each for each in UNSEEN}
    assert by_key["tangle"].rate == pytest.approx(5.0 / 44.0, abs=5e-4)
    z2 = 1.96**2
    assert by_key["burst"].high == pytest.approx(z2 / (44.0 + z2), abs=5e-4)


def test_a_rate_has_its_source_and_each_thing_its_check() -> None:
    for each in UNSEEN:
        assert len(each.check) > 20
        assert (each.rate is None) == (each.source == "")
        assert each.source in {"", *SOURCES}
        assert each.rate is not None or each.words == "no figure"


def test_one_list_everywhere_and_never_in_the_chance() -> None:
    plain = ledger_of(sample_case(5.0), 60, 1, remedies=False)
    beside = ledger_of(sample_case(5.0), 60, 1, remedies=False, beside=Beside(base_rates=True))
    assert plain.chance == beside.chance
    assert [each["key"] for each in ledger_record(plain)["unseen"]] == [e.key for e in UNSEEN]
    told = " ".join(ledger_text(beside, Terminal()).split())
    for each in UNSEEN:
        assert each.title in told and each.title in plain.not_modelled
    assert second_reader()[:40] in told


def test_the_page_has_the_same_list(tmp_path: Path) -> None:
    write_demo(tmp_path / "demo")
    sheet = Page(tmp_path / "demo").get("/ledger")
    for each in UNSEEN:
        assert each.check in sheet.text and each.words in sheet.text
