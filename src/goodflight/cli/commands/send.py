"""`goodflight send`: the answer as one file to read, or the project as one archive."""

from pathlib import Path

import click

from goodflight.cli import DONE, options, progress
from goodflight.cli.question import Question, loaded, named, say_json
from goodflight.cli.shell import write_bytes, write_file


@options.folder
@options.plan
@options.flights(2000)
@options.seed
@options.units
@click.option("--project", "whole", is_flag=True, help="The whole project, to open elsewhere.")
@click.option("-o", "--out", metavar="FILE", type=options.FOLDER, help="Where it goes.")
@options.as_json
def run(
    folder: Path,
    plan: str | None,
    flights: int,
    seed: int,
    units: str,
    whole: bool,
    out: Path | None,
    as_json: bool,
) -> int:
    """Make the file and say how large it is."""
    project = loaded(folder, plan)
    name = folder.resolve().name
    if whole:
        target = out or Path(f"{name}.zip")
        content = named("project.archive:archive")(folder)
        write_bytes(target, content)
        words = "`goodflight open FILE DIR` opens it"
    else:
        progress.ready_kernel()
        with progress.working(f"simulating {flights} flights"):
            text = named(QUESTION.function)(project, plan, flights, seed, units)
        target = out or Path(f"{name}-{project.plan(plan).name}.html")
        content = text.encode()
        write_file(target, text)
        words = "opens in any browser, without a network"
    if as_json:
        what = "archive" if whole else "page"
        sent = named(QUESTION.result)(str(target), what, project.name, len(content))
        say_json(named(QUESTION.record)(sent))
        return DONE
    click.echo(f"{project.name} saved in {target}, {max(1, len(content) // 1000)} kB: {words}")
    return DONE


QUESTION = Question(
    name="send",
    place=94,
    help="One file to read for a mentor or the inspector, or the whole project as a zip file.",
    asks="How do I show all of it to somebody who has only a browser?",
    how="send DIR",
    function="page.sent_file:send",
    beside=("project.archive:archive",),
    record="outputs.record:record",
    result="outputs.done:Sent",
    also=(("How do I hand the whole project on?", "send DIR --project"),),
    see="folder.md",
    run=run,
)
