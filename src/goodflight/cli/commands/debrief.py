"""`goodflight debrief`: what the flight said, and the log book."""

from pathlib import Path

import click

from goodflight.cli import options, progress
from goodflight.cli.pairs import pairs
from goodflight.cli.question import Question, loaded, named
from goodflight.cli.shell import write_file


@options.folder
@click.argument("flight", required=False)
@options.plan
@click.option("--peak", metavar="HEIGHT", default="", help='The altimeter\'s, e.g. "431 m ± 5 m".')
@click.option(
    "--seen",
    metavar="EVENT=TIME",
    multiple=True,
    help="After lift-off: burnout, apogee, charge, canopy, second_canopy, landing.",
)
@click.option("--csv", "csv", metavar="FILE", type=options.FOLDER, help="Save the log book.")
@options.units
@options.as_json
def run(
    folder: Path,
    flight: str | None,
    plan: str | None,
    peak: str,
    seen: tuple[str, ...],
    csv: Path | None,
    units: str,
    as_json: bool,
) -> int:
    """Ask what the flight said, show it, and write the log book where that was asked for."""
    project, events = loaded(folder, plan), pairs(seen)
    progress.ready_kernel()
    with progress.working("flying what was seen"):
        study = named(QUESTION.function)(project, plan, flight, peak, events)
    shown = QUESTION.show(study, units, as_json)
    if csv:
        write_file(csv, named("outputs.debrief.table:book_csv")(study))
        if not as_json:
            click.echo(f"Saved in {csv}")
    return shown


QUESTION = Question(
    name="debrief",
    place=68,
    help="After the flight: what it said of the rocket, and the log book of all flights.",
    asks="What did the flight say, and why did the charge come early or late?",
    how='debrief DIR --peak "551 m ± 5 m" --seen "apogee=10.4 s"',
    function="studies.questions.debrief:debrief",
    text="outputs.debrief.text:debrief_text",
    record="outputs.record:record",
    result="studies.questions.debrief:DebriefStudy",
    also=(
        ("Which flights were flown, which passed, and what broke?", "debrief DIR --csv FILE.csv"),
        ("What did the flight I noted in flights/NAME say?", "debrief DIR NAME"),
    ),
    run=run,
)
