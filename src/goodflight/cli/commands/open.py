"""`goodflight open`: a project from an archive."""

import shlex
from pathlib import Path

import click

from goodflight.cli import DONE, options
from goodflight.cli.question import Question, named


@click.argument("file", metavar="FILE", type=options.FOLDER)
@options.folder
def run(file: Path, folder: Path) -> int:
    """Open the archive into a new folder."""
    project = named(QUESTION.function)(file, folder)
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
    see="folder.md",
    run=run,
)
