"""The motors of a folder, and what to measure next, as text for a terminal."""

from goodflight.outputs.figures import figure
from goodflight.outputs.ledger.beside import measurement_words
from goodflight.outputs.ledger.text import CHANCE_WIDTH, STATE_WIDTH, state_piece
from goodflight.outputs.text_page import Terminal, TextPage, fit
from goodflight.outputs.words import at_least, edited, speak
from goodflight.quantity.said import told
from goodflight.studies.motor_results import MotorRow, MotorStudy
from goodflight.studies.results import Ledger


def motors_text(study: MotorStudy, terminal: Terminal | None = None) -> str:
    """Every motor of the folder: can it, how likely, why not; then the way to the next level."""
    page = TextPage(terminal or Terminal())
    name = f"{study.rocket} (invented)" if study.invented else study.rocket
    page.title(
        [name, "Motors of the folder, the safest first", f"certificate {study.level}"],
        [
            ("plan", study.plan),
            ("field", study.site),
            ("flights", str(study.flights)),
            ("seed", str(study.seed)),
        ],
    )
    for row in study.rows:
        page.blank()
        _motor(page, row)
    if not study.rows:
        page.paragraph("No motors in this folder: put curves and their heads into motors/.")
    page.blank()
    page.rule("The next level")
    for sentence in study.growth:
        page.paragraph(sentence.told(page.terminal.units), indent=2)
    page.blank()
    page.rule("Cautions")
    for warning in edited(study.warnings, page.terminal.units):
        page.paragraph(warning, indent=2, first="· ")
    if study.invented:
        page.paragraph("Rocket, motors, field and weather of this project are invented.")
    return page.render()


def _motor(page: TextPage, row: MotorRow) -> None:
    spoken = "cannot be flown" if row.chance is None else speak(row.chance, row.low, row.high)
    spoken = at_least(spoken, row.chance, row.unknown)
    units, level = page.terminal.units, f", needs {row.level}" if row.level else ""
    title = f"{row.name} ({row.motor_class}{level})"
    if page.terminal.narrow:
        page.line(state_piece(row.can))
        page.paragraph(title, indent=2)
        page.paragraph(spoken, indent=2)
    else:
        room = page.terminal.width - STATE_WIDTH - CHANCE_WIDTH - 1
        page.line(state_piece(row.can), fit(title, room), spoken.rjust(CHANCE_WIDTH))
    facts = [figure(row.impulse_ns, "impulse", units)]
    if row.apogee_m is not None:
        facts.append(f"to {figure(row.apogee_m, 'length', units)}")
    if row.delay_out_s is not None:
        taken = f"{row.delay_out_s:g} s out of the delay" if row.delay_out_s else "delay as sold"
        facts.append(f"best with {taken}")
    indent = 2 if page.terminal.narrow else STATE_WIDTH
    page.paragraph(", ".join(facts), indent)
    for reason in row.why_not:
        page.paragraph(told(reason, units), indent, first="· ")


def next_text(ledger: Ledger, terminal: Terminal | None = None) -> str:
    """What to measure next, most for the work first, checked by flights."""
    page = TextPage(terminal or Terminal())
    name = f"{ledger.rocket} (invented)" if ledger.invented else ledger.rocket
    page.title([name, "What to measure next"], [("plan", ledger.plan), ("motor", ledger.motor)])
    if not ledger.measure_next:
        page.paragraph("No single measurement would move the total by 2 in 1000 or more.")
    for each in ledger.measure_next:
        page.blank()
        page.paragraph(measurement_words(each))
        if each.checked is not None and each.without is not None:
            page.paragraph(
                f"flown again: moves {100 * each.checked:.1f} in 100; with this spread removed "
                f"{100 * each.total:.1f} → {100 * each.without:.1f} in 100",
                indent=2,
                ink="fine",
            )
    page.blank()
    page.paragraph(
        "Moves: one standard deviation of the total over what the figure may turn out to be; "
        "rows that fail on every flight are left out. Minutes are our guesses.",
        ink="fine",
    )
    return page.render()
