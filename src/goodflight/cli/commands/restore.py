"""`goodflight restore`: an earlier text of a file brought back."""

from pathlib import Path

import click

from goodflight.cli import BAD_INPUT, DONE, options
from goodflight.cli.question import Question, named, say_json
from goodflight.cli.shell import check_folder, show_faults


@options.folder
@click.argument("file")
@click.argument("version", type=click.IntRange(min=1))
@options.as_json
def run(folder: Path, file: str, version: int, as_json: bool) -> int:
    """Bring a version back and name what is still wrong in the project."""
    check_folder(folder)
    left = named(QUESTION.function)(folder, file, version)
    if as_json:
        faults = tuple(named("outputs.done:LeftFault")(**vars(fault)) for fault in left)
        say_json(named(QUESTION.record)(named(QUESTION.result)(file, version, faults)))
        return BAD_INPUT if left else DONE
    click.echo(f"{file} is version {version} again; what stood there is now the newest version.")
    if left:
        click.echo("The project still has faults:", err=True)
        show_faults([vars(fault) for fault in left], as_json=False)
        return BAD_INPUT
    return DONE


QUESTION = Question(
    name="restore",
    place=130,
    help="Bring back an earlier VERSION of FILE in DIR.\n\nThe text that stands there now becomes "
    "a version itself. Works on a project with faults, too.",
    asks="How do I get an earlier text back?",
    how="restore DIR FILE VERSION",
    function="interface:restore",
    record="outputs.record:record",
    result="outputs.done:Restored",
    run=run,
)
