"""What was kept and is still to be bought or done, as text."""

from goodflight.outputs.text_page import Terminal, TextPage
from goodflight.outputs.words import COSTS
from goodflight.studies.questions.todo import TodoList

NOTHING = "Nothing that was kept is left to be bought or done."
COUNTED = "Every answer is that of the rocket with all of this done."


def todo_text(found: TodoList, terminal: Terminal | None = None) -> str:
    """What is left, by its number, then what is ticked."""
    page = TextPage(terminal or Terminal())
    page.title([found.rocket, "Still to buy or do"], [])
    page.blank()
    page.paragraph(COUNTED if found.left else NOTHING)
    for mark, items in (("□", found.left), ("■", found.done)):
        for each in items:
            words = f"{each.title} ({COSTS[each.cost]})"
            page.paragraph(words, indent=7, first=f"  {mark} {each.number:<3}")
    return page.render()
