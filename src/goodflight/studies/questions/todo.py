"""What was kept and is still to be bought or done, and what of it is ticked."""

from dataclasses import dataclass
from typing import Annotated, Final

from goodflight.project import Project
from goodflight.project.todo import tick_todos, todos_of
from goodflight.studies.results import Cost

ORDER: Final[tuple[Cost, ...]] = ("purchase", "evening", "minutes", "free", "another_day")


@dataclass(frozen=True)
class TodoItem:
    """One thing that was kept."""

    number: Annotated[int, "its place in build.toml, from 1, for --done and --open"]
    title: Annotated[str, "what to buy or do"]
    cost: Annotated[Cost, "purchase, evening, minutes, free or another_day"]
    done: Annotated[bool, "whether it is ticked"]


@dataclass(frozen=True)
class TodoList:
    """All that was kept by what-if, remedy or ballast."""

    rocket: Annotated[str, "name of the rocket"]
    left: Annotated[tuple[TodoItem, ...], "still to be bought or done, what must be bought first"]
    done: Annotated[tuple[TodoItem, ...], "ticked"]


def todo(
    project: Project,
    plan: str | None = None,
    done: tuple[int, ...] = (),
    again: tuple[int, ...] = (),
) -> TodoList:
    """What was kept, and must it still be bought or done?

    Parameters
        project : Project - as loaded from its folder. [-]
        plan : str or None - the list is that of the rocket, whatever the plan. [-]
        done : tuple of int - numbers to tick first. [-]
        again : tuple of int - numbers whose tick is taken back first. [-]
    Returns
        list : TodoList - what is left, what is done. [-]
    Raises
        SaveRefused - no such number, or a file changed on disk.
    Validity
        Keeping writes figures at once; answers are those of the rocket with all of it done.
    Source
        The builder's build.toml.
    Example
        >>> goodflight.todo(goodflight.load("fieldfare")).left
        ()
    """
    marks = dict.fromkeys(done, True) | dict.fromkeys(again, False)
    if marks:
        project = tick_todos(project, marks)
    items = [
        TodoItem(number, each.name, each.cost, each.done)
        for number, each in enumerate(todos_of(project), 1)
    ]
    left = sorted((each for each in items if not each.done), key=lambda e: ORDER.index(e.cost))
    return TodoList(project.name, tuple(left), tuple(each for each in items if each.done))
