"""The text sheets: what must be seen, widths, states without colour, strips."""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

import numpy as np
import pytest

import sample_results as sample
from goodflight.outputs.flight.delay_text import delay_text
from goodflight.outputs.flight.text import flight_text
from goodflight.outputs.ledger.short import short_text
from goodflight.outputs.ledger.strip import strip
from goodflight.outputs.ledger.text import MARKS, ledger_text
from goodflight.outputs.ledger.why import why_text
from goodflight.outputs.text_page import Terminal
from goodflight.project import read_project
from goodflight.project.demo import demo_files
from goodflight.studies.case.planned import Case
from goodflight.studies.questions.ledger import ledger_of


def sheets(terminal: Terminal) -> dict[str, str]:
    ledger = sample.ledger()
    return {
        "ledger": ledger_text(ledger, terminal),
        "why": why_text(ledger, ledger.rows[0], terminal),
        "why of an unknown row": why_text(ledger, ledger.rows[2], terminal),
        "flight": flight_text(sample.flight(), terminal),
        "delay": delay_text(sample.delay(), terminal),
    }


@pytest.mark.parametrize("width", [40, 46, 60, 72, 80, 100])
def test_no_line_is_wider_than_the_terminal(width: int) -> None:
    for name, text in sheets(Terminal(width=width)).items():
        for line in text.splitlines():
            assert len(line) <= width, f"{name}: {line!r}"


def test_without_colour_there_is_no_escape_and_with_colour_the_same_words() -> None:
    plain, coloured = sheets(Terminal()), sheets(Terminal(colour=True))
    for name, text in plain.items():
        assert "\x1b" not in text
        assert "\x1b" in coloured[name]


def test_plain_ascii_where_the_terminal_knows_no_more() -> None:
    for text in sheets(Terminal(unicode=False)).values():
        assert text.isascii()
        assert "fails" in text or "advice" in text


def test_states_are_words_and_distinct_marks() -> None:
    assert len(set(MARKS.values())) == 4
    text = ledger_text(sample.ledger())
    for row in sample.ledger().rows:
        assert f"{MARKS[row.state]} {row.state}" in text


def test_the_ledger_says_what_it_must() -> None:
    text = ledger_text(sample.ledger())
    for words in (
        "Fieldfare (invented)",
        "middle motor at 13:15",
        "9 of 21 figures measured",
        "at least 36 in 100 (34–38)",
        "1 way to fail not known",
        "fewer than 1 in 500",
        "take 1 s less out: 31 → 12 in 100 (minutes); makes worse: too_late",
        "mainly: wind at the pad 61 %",
        "Enter the agreed ceiling",
        "motor burst; misfire; human error",
        "range safety",
    ):
        assert words in text, words


def test_rows_stand_in_the_order_of_the_flight_or_worst_first() -> None:
    text = ledger_text(sample.ledger())
    places = [text.index(words) for words in ("Pad and rail", "Boost", "Deployment")]
    assert places == sorted(places)
    worst = ledger_text(sample.ledger(), worst_first=True)
    keys = ("too_early", "[ceiling]", "gust_incidence", "thrust_to_weight")
    assert [worst.index(key) for key in keys] == sorted(worst.index(key) for key in keys)


def test_a_remedy_that_does_not_help_is_not_offered() -> None:
    row = sample.row()
    useless = replace(row.remedies[0], chance=0.08)
    ledger = replace(sample.ledger(), rows=(replace(row, remedies=(useless,)),))
    assert "3.0 m rail" not in ledger_text(ledger)


def test_failing_lies_right_of_the_mark_whichever_way_is_worse() -> None:
    """Demand 8 against capacity 5: more is worse fails everywhere, less is worse nowhere."""
    high = sample.row(demand=np.linspace(7.9, 8.1, 99), capacity=np.full(99, 5.0))
    for row, role in ((high, "fails"), (replace(high, more_is_worse=False), "demand")):
        drawn = strip(row, 30)
        assert drawn is not None
        roles = [cell.role for cell in drawn.cells if cell.role in ("fails", "demand")]
        assert roles and set(roles) == {role}
        assert (drawn.left < drawn.right) is row.more_is_worse


def test_the_axis_of_what_is_never_negative_begins_at_zero() -> None:
    force = sample.row(demand=np.linspace(1.0, 200.0, 99), capacity=np.full(99, 150.0))
    drawn = strip(force, 30)
    assert drawn is not None and drawn.left == 0.0
    below = strip(replace(force, demand=force.demand - 50.0), 30)
    assert below is not None and below.left < -49.0


def test_a_strip_of_nothing_is_none_and_one_value_is_drawn() -> None:
    assert strip(sample.row(demand=np.array([np.nan])), 20) is None
    same = strip(sample.row(demand=np.full(9, 3.0), capacity=np.full(9, 3.0)), 20)
    assert same is not None and sum(cell.role == "capacity" for cell in same.cells) == 1


def test_why_opens_the_row() -> None:
    ledger = sample.ledger()
    text = why_text(ledger, ledger.rows[0])
    for words in (
        "atan(gust across the rocket",
        "Hoerner, Fluid-Dynamic Drag, 1965 (memory)",
        "136 of 2000 flights fail",
        "plans.toml:plans[0].rail",
        "─── measured",
        "┈┈┈ guess",
        "╌╌╌ label",
        "use the 3.0 m rail: 7 → 2 in 100",
        "anything fails: 15 → 11 in 100",
    ):
        assert words in text, words


def test_units_can_be_imperial() -> None:
    text = flight_text(sample.flight(), Terminal(units="imperial"))
    assert "1893 ft" in text  # by hand: 577 m / 0.3048


def test_the_best_delay_stands_first() -> None:
    text = delay_text(sample.delay())
    assert "→ take out 2 s (9 ± 0.7 s left, as planned)" in text
    assert text.index("take out 2 s") < text.index("take out 3 s") < text.index("as sold")


def test_a_long_title_is_folded_and_nothing_is_cut() -> None:
    long = "Weathercocks: still too fast at apogee " * 2
    row = replace(sample.ledger().rows[0], title=long)
    ledger = replace(sample.ledger(), rows=(row,))
    for text in (ledger_text(ledger), why_text(ledger, row)):
        assert "…" not in text
        assert all(len(line) <= 80 for line in text.splitlines())
        assert text.replace("│", " ").count("too fast") == 2


def test_the_short_answer_has_every_row_that_is_not_ok_and_a_line_for_the_rest() -> None:
    ledger = sample.ledger()
    text = short_text(ledger)
    for row in ledger.rows:
        assert (f"[{row.key}]" in text) == (row.state != "ok"), row.key
    assert "--all" in text and "range safety" in text and "--base-rates" in text
    assert (
        text.index("What can still fail")
        < text.index("The way to a good flight")
        < text.index("All else")
    )


SHORT: Final = 60  # lines of a terminal that a short answer takes at most


@pytest.mark.parametrize("plan", [plan.name for plan in read_project(demo_files()).plans])
def test_the_short_answer_of_every_plan_of_the_demo_is_at_most_60_lines(
    demo_case: Callable[[str], Case], plan: str
) -> None:
    ledger = ledger_of(demo_case(plan), 200, 1)
    text = short_text(ledger, Terminal(width=80))
    assert len(text.splitlines()) <= SHORT
    assert all(len(line) <= 80 for line in text.splitlines()) and "…" not in text
    for row in ledger.rows:
        assert row.state == "ok" or f"[{row.key}]" in text, row.key
