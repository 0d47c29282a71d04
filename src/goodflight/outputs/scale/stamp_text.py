"""Whether a printed sheet still holds, as text."""

from collections.abc import Sequence

from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.studies.bench.stamps import StampAsked, Stamped


def stamp_text(asked: StampAsked, terminal: Terminal | None = None) -> str:
    """The answer, and every sheet's stamp as it is now."""
    page = TextPage(terminal or Terminal())
    page.title([asked.rocket, "Stamps of printed sheets"], [])
    page.blank()
    if asked.asked:
        page.paragraph(answer_words(asked))
        page.blank()
    page.rule("Printed now, they would carry")
    for (stamp, what), plans in once_each(asked.now).items():
        page.row("  ", f"{stamp}   {what}, {plans}")
    return page.render()


def answer_words(asked: StampAsked) -> str:
    """Whether the sheet still holds, and what to do."""
    if asked.holds:
        found = once_each(asked.sheets).items()
        names = " and ".join(f"{what} of {plans}" for (_, what), plans in found)
        return f"{asked.asked} still holds: {names}, as the project is now."
    return (
        f"{asked.asked}: no sheet made now carries this stamp. It was printed from other figures, "
        "or misread: print it again, and throw the old one away."
    )


def once_each(sheets: Sequence[Stamped]) -> dict[tuple[str, str], str]:
    """Sheets that are the same for several plans, once: stamp and what it is -> which plans."""
    found: dict[tuple[str, str], list[str]] = {}
    for each in sheets:
        found.setdefault((each.stamp, each.what), []).append(each.plan)
    return {
        key: f"plan {names[0]}" if len(names) == 1 else f"plans {', '.join(names)}"
        for key, names in found.items()
    }
