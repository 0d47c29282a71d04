"""Regression: the readable outputs of hand-made results, compared with kept files.

`RENEW_GOLDEN=1 pytest tests/golden` writes them anew; read the difference before committing it.
On a failure what was made stands beside what was wanted, with `.actual` at its end.
"""

import os
from collections.abc import Callable
from pathlib import Path

import pytest

import sample_results as sample
from goodflight.outputs.drawing.svg import drawing_svg
from goodflight.outputs.flight.delay_text import delay_text
from goodflight.outputs.flight.history import history_csv
from goodflight.outputs.flight.text import flight_text
from goodflight.outputs.json_ import to_json
from goodflight.outputs.ledger.json_ import ledger_record
from goodflight.outputs.ledger.short import short_text
from goodflight.outputs.ledger.text import ledger_text
from goodflight.outputs.ledger.why import why_text
from goodflight.outputs.motors.text import motors_text, next_text
from goodflight.outputs.text_page import Terminal

KEPT = Path(__file__).parent / "kept"

MADE: dict[str, Callable[[], str]] = {
    "ledger_short.txt": lambda: short_text(sample.ledger()),
    "ledger.txt": lambda: ledger_text(sample.ledger()),
    "ledger_46_columns.txt": lambda: ledger_text(sample.ledger(), Terminal(width=46)),
    "ledger_ascii.txt": lambda: ledger_text(sample.ledger(), Terminal(unicode=False)),
    "why.txt": lambda: why_text(sample.ledger(), sample.ledger().rows[0]),
    "flight.txt": lambda: flight_text(sample.flight()),
    "flight_imperial.txt": lambda: flight_text(sample.flight(), Terminal(units="imperial")),
    "delay.txt": lambda: delay_text(sample.delay()),
    "motors.txt": lambda: motors_text(sample.motors()),
    "next.txt": lambda: next_text(sample.ledger()),
    "ledger.json": lambda: to_json(ledger_record(sample.ledger())),
    "history.csv": lambda: history_csv(sample.flight()),
    "drawing_wide.svg": lambda: drawing_svg(sample.layout()),
    "drawing_narrow.svg": lambda: drawing_svg(sample.layout(), "imperial", "narrow"),
}


@pytest.mark.parametrize("name", MADE)
def test_output_is_as_kept(name: str) -> None:
    made, kept, actual = MADE[name](), KEPT / name, KEPT / f"{name}.actual"
    if os.environ.get("RENEW_GOLDEN"):
        kept.parent.mkdir(exist_ok=True)
        kept.write_text(made, encoding="utf-8")
    actual.unlink(missing_ok=True)
    wanted = kept.read_text(encoding="utf-8")
    if made != wanted:
        actual.write_text(made, encoding="utf-8")
    assert made == wanted


def test_nothing_is_kept_that_is_not_made() -> None:
    assert {path.name for path in KEPT.iterdir() if path.suffix != ".actual"} == set(MADE)
