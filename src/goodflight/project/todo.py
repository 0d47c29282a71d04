"""What was kept and is still to be bought or done: one list, `[[todo]]` of build.toml.

Keeping a what-if or a remedy writes its figures at once, so that every answer is that of the rocket
as it will fly; that it is not so yet stands here until it is ticked.
"""

from collections.abc import Iterable, Mapping
from typing import Final

from goodflight.project.editing import edit_all
from goodflight.project.faults import SaveRefused
from goodflight.project.idea_rocket import toml_table
from goodflight.project.records import Project
from goodflight.project.workshop_files import TodoTable

BUILD: Final = "build.toml"
Item = tuple[str, str]  # what to do, and its kind of cost


def todos_of(project: Project) -> tuple[TodoTable, ...]:
    """Return what was kept, in the order it was kept, ticked or not."""
    return tuple(project.build.todo) if project.build else ()


def with_todos(texts: dict[str, str], project: Project, items: Iterable[Item]) -> dict[str, str]:
    """Return the files of a change with what was kept by it added to the list.

    What stands there unticked is not written twice.

    Parameters
    ----------
    texts : dict - files as they will read, changed ones at least. [-]
    project : Project - as it was before. [-]
    items : iterable - what is to be done, with its kind of cost. [-]
    """
    open_now = {each.name for each in todos_of(project) if not each.done}
    rows = ""
    for name, cost in items:
        if name not in open_now:
            rows += "\n" + toml_table("[[todo]]", name=name, cost=cost)
    if not rows:
        return texts
    before = texts.get(BUILD, project.texts.get(BUILD, "#:schema ./.schema/build.json\n"))
    return {**texts, BUILD: before + ("" if before.endswith("\n") else "\n") + rows}


def tick_todos(project: Project, marks: Mapping[int, bool]) -> Project:
    """Tick items of the list, or take the tick back; numbers count from 1.

    Raises
    ------
    SaveRefused - no such item, or a file changed on disk.
    """
    count = len(todos_of(project))
    wrong = [number for number in marks if not 1 <= number <= count]
    if wrong:
        there = f"numbers 1 to {count}" if count else "nothing was kept yet"
        raise SaveRefused(f"no item {wrong[0]} in the list; {there}; nothing was written")
    return edit_all(
        project,
        [(f"{BUILD}:todo[#{n}].done", "true" if done else "false") for n, done in marks.items()],
    )
