"""`goodflight fly`: one nominal flight."""

from pathlib import Path

import click

from goodflight.cli import DONE, INCOMPLETE, options, progress
from goodflight.cli.question import Question, loaded, named
from goodflight.cli.shell import write_file


@options.folder
@options.plan
@click.option("--calm", is_flag=True, help="No wind and no gusts.")
@click.option("--csv", "csv", metavar="FILE", type=options.FOLDER, help="Save the time history.")
@options.units
@options.as_json
def run(
    folder: Path, plan: str | None, calm: bool, csv: Path | None, units: str, as_json: bool
) -> int:
    """Fly, save the history where it is asked for, show the figures."""
    project = loaded(folder, plan)
    progress.ready_kernel()
    report = named(QUESTION.function)(project, plan, calm=calm)
    if csv:
        write_file(csv, named("outputs.flight.history:history_csv")(report))
    QUESTION.show(report, units, as_json)
    return INCOMPLETE if report.figures.get("apogee_m") is None else DONE


QUESTION = Question(
    name="fly",
    place=40,
    help="One nominal flight: figures, events, time history.",
    asks="How does one flight go?",
    how="fly DIR, in still air with --calm",
    function="studies.questions.fly:nominal_flight",
    text="outputs.flight.text:flight_text",
    record="outputs.flight.json_:flight_record",
    fields=("figures of `fly`",),
    result="studies.results:FlightReport",
    more="outputs.flight.json_:MORE",
    run=run,
)
