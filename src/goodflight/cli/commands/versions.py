"""`goodflight versions`: earlier texts of the project's files."""

from pathlib import Path

import click

from goodflight.cli import DONE, options
from goodflight.cli.question import Question, named, say_json
from goodflight.cli.shell import check_folder


@options.folder
@click.argument("file", required=False)
@click.option(
    "--keep",
    metavar="N",
    type=click.IntRange(min=1),
    help="Mark version N of FILE: it is never pruned.",
)
@click.option("--release", metavar="N", type=click.IntRange(min=1), help="Take the mark away.")
@options.as_json
def run(
    folder: Path, file: str | None, keep: int | None, release: int | None, as_json: bool
) -> int:
    """List earlier versions, after one is marked where that is asked for."""
    check_folder(folder)
    for number, marked in ((keep, True), (release, False)):
        if number is not None:
            if file is None:
                words = "name the FILE whose version is meant"
                raise click.UsageError(words, click.get_current_context())
            named("project.saving:keep_version")(folder, file, number, marked)
    kept = named(QUESTION.function)(folder, file)
    if as_json:
        say_json(named(QUESTION.record)(kept))
    else:
        click.echo(named(QUESTION.text)(kept, str(folder)), nl=False)
    return DONE


QUESTION = Question(
    name="versions",
    place=120,
    help="Earlier versions of the project's files, or of FILE, the newest last.\n\nThe newest 100 "
    "of a file stay, of older ones the last of each day and those marked with --keep.",
    asks="Which earlier texts of my files are kept?",
    how="versions DIR",
    see="folder.md",
    function="interface:versions",
    text="outputs.versions:versions_text",
    record="outputs.versions:versions_record",
    result="outputs.versions:Versions",
    run=run,
)
