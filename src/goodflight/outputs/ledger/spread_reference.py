"""The reference of every uncertain figure as text."""

from goodflight.outputs.figures import figure
from goodflight.outputs.ledger.reference import named_lines
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.quantity.said import Convertible, marked
from goodflight.studies.questions.spreads import SpreadList, SpreadReference

NATURES = {"knowledge": "not known well enough", "chance": "differs from flight to flight"}


def spreads_text(found: SpreadList, terminal: Terminal | None = None) -> str:
    """Every uncertain figure: how wide it is taken, why, how it is measured, where it acts."""
    page = TextPage(terminal or Terminal())
    page.title(
        ["Every uncertain figure", "one standard deviation, where a project says no better"],
        [("figures", str(len(found.spreads))), ("one row", "spreads --row KEY")],
    )
    for each in found.spreads:
        page.blank()
        page.row((each.label, "strong"), f"  ({each.key})", indent=0)
        how = marked(each.how)
        measured = Convertible(f"{how} ({each.instrument})" if each.instrument else f"not: {how}")
        lines = (
            ("spread", f"{_wide(each, page.terminal.units)}; {NATURES[each.nature]}"),
            ("why", Convertible(f"{marked(each.reason)}; {each.source}")),
            ("measured", measured),
            ("rows", ", ".join(each.rows) or "all that follow from the flight"),
        )
        named_lines(page, lines)
    return page.render()


def _wide(each: SpreadReference, units: str) -> str:
    """The spread by how the figure is known, as far as that makes a difference."""
    if each.even:
        return "anything between two ends"
    if each.guess == 0.0:
        return "as the project has it"
    kind = "ratio" if each.relative else each.dimension
    known = {"guessed": each.guess, "by label": each.on_label, "measured": each.measured}
    told: dict[str, str] = {}
    for word, sigma in known.items():
        shown = f"±{100 * sigma:.3g} %" if each.relative else f"±{figure(sigma, kind, units)}"
        told.setdefault(shown, word)
    if len(told) == 1:
        return next(iter(told))
    return ", ".join(f"{shown} {word}" for shown, word in told.items())
