"""Two plans or two rockets side by side, as text and in the words of the page."""

from goodflight.outputs.figures import dimension, figure, words
from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.outputs.words import at_least, speak
from goodflight.studies.questions.beside import Beside, BesideRow, Side

ALIKE = 0.005  # rows nearer to each other than this, and ok in both, are counted, not listed


def side_name(side: Side) -> str:
    """Rocket, plan and motor of one side."""
    then = f", with {side.version}" if side.version else ""
    return f"{side.rocket}, {side.plan}, {side.motor}{then}"


def side_total(side: Side) -> str:
    """The total of one side."""
    return at_least(speak(side.chance, side.low, side.high), side.chance, side.unknown)


def chance_words(chance: float | None, state: str | None) -> str:
    """A row's chance on one side, short."""
    if state is None:
        return "not there"
    return "not known" if chance is None else f"{100 * chance:.1f}"


def figure_rows(found: Beside, units: str) -> list[tuple[str, str, str]]:
    """Figures of both nominal flights: words, first, second."""
    rows = []
    for each in found.figures:
        kind = dimension(each.key)
        one, two = (figure(value, kind, units) for value in (each.first, each.second))
        rows.append((words(each.key)[1], one, two))
    return rows


def telling(found: Beside) -> list[BesideRow]:
    """The rows that differ, or are not ok in one of them."""
    return [
        row
        for row in found.rows
        if abs((row.first or 0.0) - (row.second or 0.0)) >= ALIKE
        or row.first_state != row.second_state
        or {row.first_state, row.second_state} - {"ok", None}
    ]


def beside_text(found: Beside, terminal: Terminal | None = None) -> str:
    """Both totals, then every row that differs or fails in one of them."""
    page = TextPage(terminal or Terminal())
    page.title(["Side by side"], [("flights", f"{found.flights} of each")])
    page.blank()
    for letter, side in (("A", found.first), ("B", found.second)):
        page.paragraph(f"{side_name(side)}: fails {side_total(side)}", 5, first=f"  {letter}  ")
    page.blank()
    page.rule("One nominal flight of each")
    page.line(f"  {'A':>10} {'B':>10}")
    for name, first, second in figure_rows(found, page.terminal.units):
        page.line(f"  {first:>10} {second:>10}  ", name)
    page.blank()
    page.rule("How many of 100 flights fail")
    page.line(f"  {'A':>10} {'B':>10}")
    rows = telling(found)
    for row in rows:
        one = chance_words(row.first, row.first_state)
        two = chance_words(row.second, row.second_state)
        page.line(f"  {one:>10} {two:>10}  ", row.title[: page.terminal.width - 26])
    page.blank()
    page.paragraph(f"{len(found.rows) - len(rows)} rows are ok and alike in both.")
    return page.render()
