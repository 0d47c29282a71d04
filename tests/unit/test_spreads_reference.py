"""The reference of every uncertain figure: what was declared, told once, in words that fit."""

import pytest

from goodflight.outputs.ledger.spread_reference import spreads_text
from goodflight.outputs.text_page import Terminal
from goodflight.studies.questions.spreads import spreads
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.rows import LIMIT_STATES
from goodflight.studies.sampling.declared import DECLARED


def test_every_figure_is_there_with_its_rows_and_a_way_to_measure_it() -> None:
    found = spreads().spreads
    assert [each.key for each in found] == list(DECLARED)
    for each in found:
        assert each.measured <= each.on_label <= each.guess
        assert each.reason and each.source and each.how
        assert (each.minutes is None) == (not each.instrument)
        assert "{" not in each.label
    needed = {need.key for limit in LIMIT_STATES for need in limit.needs}
    assert needed == {each.key for each in found if each.rows}


def test_figures_of_one_row_or_a_refusal() -> None:
    """Declared in sampling/rail.py and sampling/search.py: 0.06 and a share of 0.30."""
    (friction,) = spreads("guides_stick").spreads
    assert (friction.guess, friction.relative, friction.nature) == (0.06, False, "knowledge")
    (eyes,) = spreads("lost_from_sight").spreads[-1:]
    assert (eyes.guess, eyes.relative, eyes.rows) == (0.30, True, ("lost_from_sight",))
    with pytest.raises(StudyRefused, match="zippers"):
        spreads("zippers")


def test_the_text_names_every_figure_and_fits_its_width() -> None:
    found = spreads()
    for units in ("metric", "imperial"):
        text = spreads_text(found, Terminal(width=72, units=units))
        assert all(f"({each.key})" in text for each in found.spreads)
        assert max(map(len, text.splitlines())) <= 72
