"""The table of delays as text for a terminal."""

import math
from collections.abc import Sequence
from typing import Final

from goodflight.outputs.figures import figure
from goodflight.outputs.flight.text import foot, named
from goodflight.outputs.text_page import Terminal, TextPage, fit
from goodflight.outputs.words import STATES, at_least, percent, speak
from goodflight.studies.motor_results import DelayRow, DelayStudy
from goodflight.studies.rows import LIMIT_STATES, TITLES

STRIP: Final = 34
CHANCE_WIDTH: Final = 26
THUMBS: Final = {limit.key for limit in LIMIT_STATES if limit.thumb}  # they fail no plan
TOLD: Final = 0.005  # a row with fewer flights than this share stands in the JSON alone


def delay_text(study: DelayStudy, terminal: Terminal | None = None) -> str:
    """Every delay the motor allows, the lowest total chance first."""
    page = TextPage(terminal or Terminal())
    page.title(
        [named(study.rocket, study.invented), "Delays, the safest first"],
        [
            ("plan", study.plan),
            ("motor", study.motor),
            ("delay", f"{study.sold_s:g} s ± {100.0 * study.sold_spread:.2g} %"),
            ("flights", str(study.flights)),
            ("seed", str(study.seed)),
        ],
    )
    page.blank()
    ends, moved = _ends(study.rows), _moved(study.rows)
    for place, row in enumerate(study.rows):
        _delay(page, study, row, place == 0, (ends, moved))
    page.blank()
    page.paragraph(
        f"Strips: ejection of 9 in 10 flights (┃ the middle one), ▌ apogee; the strip runs from "
        f"{ends[0]:+.1f} s to {ends[1]:+.1f} s after apogee. Speeds are through the air.",
        ink="fine",
    )
    foot(page, study.warnings, study.invented)
    return page.render()


def _delay(
    page: TextPage,
    study: DelayStudy,
    row: DelayRow,
    best: bool,
    shown: tuple[tuple[float, float], Sequence[str]],
) -> None:
    units, (ends, moved) = page.terminal.units, shown
    taken = f"take out {row.delay_out_s:g} s" if row.delay_out_s else "as sold"
    planned = ", as planned" if row.delay_out_s == study.planned_delay_out_s else ""
    chance = at_least(speak(row.chance, row.low, row.high), row.chance, row.unknown)
    name = f"{'→' if best else ' '} {taken} ({_left(row)} left{planned})"
    if page.terminal.narrow:
        page.paragraph(name.strip())
        page.paragraph(f"anything fails: {chance}", indent=2)
    else:
        room = page.terminal.width - CHANCE_WIDTH - 1
        page.line((fit(name, room), "strong" if best else "ink"), chance.rjust(CHANCE_WIDTH))
    low, middle, high = (figure(value, "speed", units) for value in row.ejection_m_s_5_50_95)
    speeds = f"{middle} ({low} to {high})"
    if page.terminal.narrow:
        page.line(_timeline(row.after_apogee_s_5_50_95, ends))
        page.paragraph(speeds, indent=2, ink="fine")
    else:
        page.line("    ", _timeline(row.after_apogee_s_5_50_95, ends), (f"  {speeds}", "fine"))
    told = {key: row.chances[key] for key in moved if row.chances.get(key, 0.0) >= TOLD}
    worst = sorted(told, key=lambda key: (key in THUMBS, -told[key]))
    failing = [f"{TITLES[key]} {percent(told[key])}" for key in worst]
    page.paragraph("; ".join([f"plan {STATES[row.state]}", *failing]), indent=4, ink="fine")


def _left(row: DelayRow) -> str:
    """What is left of a delay, with its scatter."""
    return f"{row.delay_s:g} ± {row.spread_s:.1f} s" if row.spread_s else f"{row.delay_s:g} s"


def _moved(rows: Sequence[DelayRow]) -> list[str]:
    """Keys of the rows that have another chance with another delay."""
    keys = dict.fromkeys(key for row in rows for key in row.chances)
    return [key for key in keys if len({row.chances.get(key) for row in rows}) > 1]


def _ends(rows: Sequence[DelayRow]) -> tuple[float, float]:
    """Ends of the strips: every delay and apogee itself, in s after apogee."""
    times = [
        0.0,
        *(time for row in rows for time in row.after_apogee_s_5_50_95 if math.isfinite(time)),
    ]
    air = 0.05 * (max(times) - min(times)) + 0.1
    return min(times) - air, max(times) + air


def _timeline(times: tuple[float, float, float], ends: tuple[float, float]) -> str:
    """Ejection on a strip of seconds: the range, its middle, and apogee."""
    cells = [" "] * STRIP
    if all(math.isfinite(time) for time in times):
        first, middle, last = (_place(time, ends) for time in times)
        cells[first : last + 1] = "·" * (last + 1 - first)
        cells[middle] = "┃"
    cells[_place(0.0, ends)] = "▌"
    return "".join(cells)


def _place(time: float, ends: tuple[float, float]) -> int:
    return min(STRIP - 1, int((time - ends[0]) / (ends[1] - ends[0]) * STRIP))
