"""The chart of delays says the same wide and narrow, and its writing stays on the sheet."""

import math
import re
from itertools import pairwise

import pytest

from goodflight.outputs.flight.delay import NARROW, WIDE, delay_svg
from goodflight.studies.motor_results import DelayRow, DelayStudy

SIGN = 6.9  # px, mean width of a sign of the sheet's sans at 13 px, on the generous side


def row(delay_out_s: float, chance: float, at: tuple[float, float, float]) -> DelayRow:
    """A made-up delay."""
    return DelayRow(
        delay_out_s=delay_out_s,
        delay_s=11 - delay_out_s,
        chance=chance,
        low=chance - 0.03,
        high=chance + 0.03,
        after_apogee_s_5_50_95=at,
        ejection_m_s_5_50_95=(18.0, 120.3, 131.0),
        chances={},
        ejection_m_5_50_95=(600.0, 612.0, 620.0),
    )


STUDY = DelayStudy(
    "Wren",
    "calm",
    "H-x",
    500,
    1,
    planned_delay_out_s=4.5,
    rows=(
        row(4.5, 0.67, (-1.2, -0.2, 0.9)),
        row(0.0, 0.77, (0.2, 1.5, 2.6)),
        row(7.0, 0.97, (-2.0, -1.6, -1.1)),
    ),
)


def charts(study: DelayStudy, units: str = "metric") -> list[str]:
    return re.findall(r"<svg.*?</svg>", delay_svg(study, units))


def test_wide_and_narrow_say_the_same() -> None:
    wide, narrow = charts(STUDY)
    assert re.findall('aria-label="[^"]*"', wide) == re.findall('aria-label="[^"]*"', narrow)
    for words in ("4.5 s, planned", "about 67 in 100 (64–70), lowest", "120 m/s"):
        assert words in wide and words in narrow
    assert wide.count('class="best"') == narrow.count('class="best"') == 1


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_no_writing_leaves_the_sheet_or_meets_other_writing(units: str) -> None:
    for chart, place in zip(charts(STUDY, units), (WIDE, NARROW), strict=True):
        spans: dict[str, list[tuple[float, float]]] = {}
        for x, y, anchor, words in re.findall(
            r'<text x="([\d.-]+)" y="([\d.]+)" text-anchor="(\w+)">([^<]*)<', chart
        ):
            long = SIGN * len(words)
            left = float(x) - {"start": 0, "middle": 0.5, "end": 1}[anchor] * long
            spans.setdefault(y, []).append((left, left + long))
        for line in spans.values():
            ends = sorted(line)
            assert ends[0][0] >= -0.1 and ends[-1][1] <= place.width + 0.1, ends
            assert all(a[1] < b[0] for a, b in pairwise(ends)), ends


def test_a_delay_that_never_ejects_leaves_its_line_empty() -> None:
    never = row(1.0, 0.99, (math.nan, math.nan, math.nan))
    study = DelayStudy("Wren", "calm", "H-x", 500, 1, 4.5, (*STUDY.rows, never))
    assert "nan" not in delay_svg(study)
    assert delay_svg(DelayStudy("Wren", "calm", "H-x", 500, 1, 4.5, (never,))) == ""
