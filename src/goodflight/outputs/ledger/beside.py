"""What stands below a ledger: figures worth measuring, and rates of what is not computed."""

from collections.abc import Sequence
from typing import Final

from goodflight.outputs.ledger.way_words import step_words, way_first, way_words
from goodflight.outputs.text_page import TextPage
from goodflight.outputs.words import entered_words, how_words, worth_words
from goodflight.studies.cautions import cautions_of
from goodflight.studies.results import BaseRate, Ledger, Measurement
from goodflight.studies.unseen import HEAD, UNSEEN, second_reader

LISTED: Final = 3  # measurements named below the ledger


def next_lines(page: TextPage, ledger: Ledger, most: int = LISTED) -> None:
    """What to do and what to measure; what is not known at all goes first."""
    if ledger.unknown:
        measure_lines(page, ledger.measure_next, most)
    way_lines(page, ledger)
    if not ledger.unknown:
        measure_lines(page, ledger.measure_next, most)


def measure_lines(page: TextPage, listed: Sequence[Measurement], most: int) -> None:
    """The first few measurements below a ledger."""
    if not listed:
        return
    page.blank()
    page.rule("Measure next")
    for each in listed[:most]:
        page.paragraph(measurement_words(each), indent=2, first="· ")


def way_lines(page: TextPage, ledger: Ledger, brief: bool = False) -> None:
    """The way to a good flight: the steps with the total after each, below a ledger.

    brief : rules that a step meets are counted; a row listed above goes by its key.
    """
    way = ledger.way
    if way is None:
        return
    if not brief:
        page.blank()
    page.rule("The way to a good flight")
    titles = {row.key: row.title for row in ledger.rows}
    short = {row.key: row.key for row in ledger.rows if brief and row.state != "ok"}
    for words in way_first(way, titles):
        page.paragraph(words, indent=2, first="! ")
    page.paragraph(way_words(way, titles))
    for number, step in enumerate(way.steps, 1):
        words = step_words(step, titles | short, page.terminal.units, brief)
        page.paragraph(words, indent=3, first=f"{number}. ")
    for care in cautions_of(step.remedy.caution for step in way.steps):
        page.paragraph(care, indent=3, ink="fine")


def measurement_words(each: Measurement) -> str:
    """One measurement as a sentence."""
    return f"{each.label}: {how_words(each)}{entered_words(each)}; {worth_words(each)}"


def base_rate_lines(page: TextPage, rates: Sequence[BaseRate]) -> None:
    """Base rates of what is not computed, apart from every computed chance."""
    if not rates:
        return
    page.blank()
    page.rule("What no calculation sees")
    page.paragraph(HEAD.partition(": ")[2] + ".", indent=2)
    for each in UNSEEN:
        page.paragraph(f"{each.title}: {each.words}", indent=4, first="[ ] ")
        page.paragraph(f"check: {each.check}", indent=4)
    page.paragraph(second_reader(), indent=2)
    page.blank()
    page.rule("Elsewhere, not computed and not in the total")
    for rate in rates:
        how_often = "no figure" if rate.chance is None else f"about {100 * rate.chance:.0f} in 100"
        page.paragraph(
            f"{rate.what}: {how_often}; {rate.basis} ({rate.source}; {rate.how})",
            indent=2,
            first="· ",
        )
