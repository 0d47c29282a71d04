"""Whole designs for an idea, as text."""

from goodflight.outputs.size import size_words
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.outputs.words import percent, speak
from goodflight.studies.sizing.results import SizedDesign, SizeStudy


def size_text(study: SizeStudy, terminal: Terminal | None = None) -> str:
    """The designs, what stands in the way, what is still to be found out, what was assumed."""
    page = TextPage(terminal or Terminal())
    page.title(
        [study.rocket, "Designs from what is at hand"],
        [("certificate", study.level), ("tried", f"{study.tried} designs")],
    )
    page.blank()
    page.paragraph(size_words.verdict(study), ink="strong")
    for each in study.no_design:
        page.paragraph(f"{each.motor}: no design; {each.why}.", ink="fine")
    for design in study.designs:
        _design(page, design)
    if study.in_the_way:
        page.blank()
        page.rule("What stands in the way of the first")
        for row in study.in_the_way:
            page.paragraph(size_words.row(row, page.terminal.units), indent=2, first="· ")
    if study.to_find_out:
        page.blank()
        page.rule("Still to be found out")
        page.paragraph(
            f"Not known of any idea, and not counted as ok: {size_words.count_unknown(study)}. "
            "`goodflight ledger` on an opened design lists each with what to do."
        )
    page.blank()
    page.rule("Taken for granted")
    for taken in study.assumed:
        page.paragraph(f"{taken.what} (change: {taken.where})", indent=2, first="· ")
    page.blank()
    for words in study.warnings:
        page.paragraph(words, ink="fine")
    return page.render()


def _design(page: TextPage, design: SizedDesign) -> None:
    units = page.terminal.units
    page.blank()
    chance = speak(design.chance, design.low, design.high)
    page.rule(
        f"{design.number}  {design.choice.motor}: fails {chance}, {percent(design.chance) or '0 %'}"
    )
    told = size_words.costs(design)
    if told:
        page.paragraph(told, indent=2)
    for name, words in size_words.build(design, units):
        page.paragraph(words, indent=10, first=f"  {name:<8}")
    page.paragraph(size_words.flies(design, units), indent=10, first=f"  {'flies':<8}")
    page.paragraph(size_words.by_wind(design, units), indent=10, first=f"  {'wind':<8}")
    worst = design.rows[: size_words.MOST_TOLD]
    if worst:
        words = "; ".join(f"{each.title} {100 * each.chance:.0f}" for each in worst)
        page.paragraph(f"{words} in 100", indent=10, first=f"  {'mostly':<8}")
    for rule in design.rules:
        page.paragraph(size_words.row(rule, units), indent=10, first=f"  {'rule':<8}")
