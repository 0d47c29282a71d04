"""`goodflight calendar`: when to do what, whether launch day holds, how likely, what helps."""

from datetime import UTC, date, datetime
from pathlib import Path

import click

from goodflight.cli import options
from goodflight.cli.pairs import pairs
from goodflight.cli.question import Question, loaded, named
from goodflight.cli.shell import write_bytes


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
    "--builds",
    default=400,
    show_default=True,
    type=click.IntRange(50, 5000),
    help="Simulated builds behind the chance.",
)
@click.option(
    "--forecast",
    metavar="PLACE=FILE",
    multiple=True,
    help="CSV of a workplace: date, temperature [degC], night [degC], humidity.",
)
@click.option("--ics", metavar="FILE", type=options.FOLDER, help="Save as iCalendar text.")
@click.option("--pdf", metavar="FILE", type=options.FOLDER, help="Save on sheets to print.")
@options.units
@options.as_json
def run(
    folder: Path,
    plan: str | None,
    start: str,
    builds: int,
    forecast: tuple[str, ...],
    ics: Path | None,
    pdf: Path | None,
    units: str,
    as_json: bool,
) -> int:
    """Plan the work, show it, and write the files that were asked for."""
    project = loaded(folder, plan)
    starts = project.build.starts if project.build else ""
    first = start or starts or date.today().isoformat()
    read = named("project.calendar_files:place_forecast")
    files = pairs(forecast, "--forecast", "PLACE=FILE")
    told = {place: read(Path(file)) for place, file in files.items()}
    study = named(QUESTION.function)(project, plan, first, builds, told)
    shown = QUESTION.show(study, units, as_json)
    if ics:
        write_bytes(ics, named("outputs.calendar.ics:calendar_ics")(study, datetime.now(UTC)))
    if pdf:
        foot = (date.today().isoformat(),)
        write_bytes(pdf, named("outputs.calendar.sheet:calendar_pdf")(study, units, foot=foot))
    for each in (ics, pdf):
        if each and not as_json:
            click.echo(f"Saved in {each}")
    return shown


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
    also=(
        ("What if I begin later?", "calendar DIR --from 2026-09-12"),
        (
            "How do I get it on paper, or onto my phone's calendar?",
            "calendar DIR --pdf plan.pdf --ics plan.ics",
        ),
    ),
    run=run,
)
