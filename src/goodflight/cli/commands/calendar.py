"""`goodflight calendar`: when to do what, whether launch day holds, how likely, what helps."""

from datetime import date
from pathlib import Path

import click

from goodflight.cli import options
from goodflight.cli.question import Question, loaded, named


@options.folder
@options.plan
@click.option(
    "--from",
    "start",
    metavar="DAY",
    default="",
    help="First day of work, like 2026-09-01; build.toml's `starts`, else today.",
)
@click.option(
    "--draws",
    default=400,
    show_default=True,
    type=click.IntRange(50, 5000),
    help="Conditions drawn for the chance.",
)
@options.units
@options.as_json
def run(folder: Path, plan: str | None, start: str, draws: int, units: str, as_json: bool) -> int:
    """Plan the work, show it, and write the files that were asked for."""
    project = loaded(folder, plan)
    told = project.build.starts if project.build else ""
    first = start or told or date.today().isoformat()
    study = named(QUESTION.function)(project, plan, first, draws)
    return QUESTION.show(study, units, as_json)


QUESTION = Question(
    name="calendar",
    place=102,
    help="When to do what, whether launch day holds, how likely, and what helps.",
    asks="When do I do what, and does launch day hold?",
    how="calendar DIR",
    function="studies.questions.calendar:calendar",
    text="outputs.calendar.text:calendar_text",
    record="outputs.record:record",
    result="studies.calendar.results:CalendarStudy",
    also=(("What if I begin later?", "calendar DIR --from 2026-09-12"),),
    run=run,
)
