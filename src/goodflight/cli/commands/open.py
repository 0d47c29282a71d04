"""`goodflight open`: a project from an archive."""

import shlex
from pathlib import Path

import click

from goodflight.cli import DONE, options
from goodflight.cli.question import Question, named, say_json


@click.argument("file", metavar="FILE", type=options.FOLDER)
@options.folder
@options.as_json
def run(file: Path, folder: Path, as_json: bool) -> int:
    """Open the archive into a new folder."""
    project = named(QUESTION.function)(file, folder)
    if as_json:
        opened = named(QUESTION.result)(str(folder), project.name)
        say_json(named(QUESTION.record)(opened))
        return DONE
    click.echo(f"{project.name} written to {folder}.")
    click.echo(f"Next: goodflight ledger {shlex.quote(str(folder))}")
    return DONE


QUESTION = Question(
    name="open",
    place=25,
    help="Open a project that somebody sent as a zip file, in a new folder DIR.",
    asks="How do I open a project that somebody sent me?",
    how="open FILE DIR",
    function="project.archive:open_archive",
    public="open_archive",
    record="outputs.record:record",
    result="outputs.done:Opened",
    see="folder.md",
    project=False,
    run=run,
)
