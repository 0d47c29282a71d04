"""`goodflight new DIR`: about thirty questions, or a file of answers, make a project."""

import shlex
from pathlib import Path
from textwrap import fill

import click

from goodflight.cli import DONE, options
from goodflight.cli.question import Question


@options.folder
@click.option("--answers", metavar="FILE", type=options.FOLDER, help="TOML file, question = text.")
@click.option("--defaults", is_flag=True, help="Take every default, ask nothing.")
@click.option("--list", "listing", is_flag=True, help="Show the questions with their defaults.")
def run(folder: Path, answers: Path | None, defaults: bool, listing: bool) -> int:
    """Ask, or read the answers, and write the project."""
    from goodflight.cli.new_dialogue import check_empty, from_dialogue, from_file
    from goodflight.project.motor_told import TOLD
    from goodflight.project.newcomer import QUESTIONS
    from goodflight.project.newcomer_assumed import ASSUMED, still_assumed
    from goodflight.project.newcomer_known import KNOWN
    from goodflight.project.reading import read_project
    from goodflight.project.saving import write_project

    if listing:
        for each in QUESTIONS:
            click.echo(f'{each.id} = "{each.default}"  # {each.prompt}: {each.why}')
        for one in ASSUMED:
            click.echo(f'{one.id} = "{one.default}"  # {one.prompt}: {one.why}; assumed')
        click.echo("# What is not known yet may stay empty; the motor, too:")
        for known in (*TOLD, *KNOWN):
            choices = "".join(f"; {key}: {words}" for key, words in known.choices)
            click.echo(f'{known.id} = ""  # {known.prompt}: {known.why}{choices}')
        return DONE
    check_empty(folder)
    if answers:
        files = from_file(answers)
    else:
        took = {each.id: each.default for each in (*QUESTIONS, *TOLD)}
        files = from_dialogue(took if defaults else {})
    write_project(folder, files)
    click.echo(f"Project written to {folder}. What was not asked is marked guess in its files.")
    left = still_assumed(read_project(files))
    assumed = "; ".join(f"{each.question.prompt.lower()}: {each.said}" for each in left)
    click.echo(fill(f"Assumed until you change it: {assumed}.", 79))
    place = shlex.quote(str(folder))
    if not any(file.startswith("motors/") for file in files):
        click.echo("No motor is chosen, so nothing is flown: every way to fail is not known, and")
        click.echo("there is no total.")
        click.echo(f"Next: goodflight serve {place}, which asks for the motor")
    else:
        click.echo(f"Next: goodflight ledger {place}")
    return DONE


QUESTION = Question(
    name="new",
    place=20,
    help="Make a project in DIR from about 30 answers.",
    asks="How do I begin with my own rocket?",
    how="new DIR",
    function="interface:new",
    run=run,
)
