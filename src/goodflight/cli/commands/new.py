"""`goodflight new DIR`: about thirty questions, or a file of answers, make a project."""

import shlex
import sys
from collections.abc import Mapping
from contextlib import nullcontext, redirect_stdout
from pathlib import Path
from textwrap import fill
from typing import TYPE_CHECKING

import click

from goodflight.cli import DONE, options
from goodflight.cli.question import Question, named, say_json

if TYPE_CHECKING:
    from goodflight.project import Project


@options.folder
@click.option("--answers", metavar="FILE", type=options.FOLDER, help="TOML file, question = text.")
@click.option("--defaults", is_flag=True, help="Take every default, ask nothing.")
@click.option("--list", "listing", is_flag=True, help="Show the questions with their defaults.")
@options.as_json
def run(folder: Path, answers: Path | None, defaults: bool, listing: bool, as_json: bool) -> int:
    """Ask, or read the answers, and write the project."""
    from goodflight.cli.new_dialogue import check_empty, from_dialogue, from_file
    from goodflight.project.motor_told import TOLD
    from goodflight.project.newcomer import QUESTIONS
    from goodflight.project.reading import read_project
    from goodflight.project.saving import write_project

    if listing:
        return _list(as_json)
    check_empty(folder)
    if answers:
        files = from_file(answers)
    else:
        took = {each.id: each.default for each in (*QUESTIONS, *TOLD)}
        with redirect_stdout(sys.stderr) if as_json else nullcontext():  # stdout has the answer
            files = from_dialogue(took if defaults else {})
    write_project(folder, files)
    project = read_project(files)
    return _begun(folder, files, project) if as_json else _say(folder, files, project)


def _list(as_json: bool) -> int:
    """Every question with its default."""
    from goodflight.project.motor_told import TOLD
    from goodflight.project.newcomer import QUESTIONS
    from goodflight.project.newcomer_assumed import ASSUMED
    from goodflight.project.newcomer_known import KNOWN

    if as_json:
        form = named("outputs.done:first_form")
        groups = {"asked": QUESTIONS, "assumed": ASSUMED, "motor": TOLD, "known": KNOWN}
        say_json(named(QUESTION.record)(form(groups)))
        return DONE
    for each in QUESTIONS:
        click.echo(f'{each.id} = "{each.default}"  # {each.prompt}: {each.why}')
    for one in ASSUMED:
        click.echo(f'{one.id} = "{one.default}"  # {one.prompt}: {one.why}; assumed')
    click.echo("# What is not known yet may stay empty; the motor, too:")
    for known in (*TOLD, *KNOWN):
        choices = "".join(f"; {key}: {words}" for key, words in known.choices)
        click.echo(f'{known.id} = ""  # {known.prompt}: {known.why}{choices}')
    return DONE


def _begun(folder: Path, files: Mapping[str, str], project: "Project") -> int:
    """What was written, as data."""
    from goodflight.project.newcomer_assumed import still_assumed

    taken = named("outputs.done:Assumption")
    assumed = tuple(taken(each.question.id, each.text) for each in still_assumed(project))
    begun = named(QUESTION.result)(
        folder=str(folder),
        name=project.name,
        files=tuple(sorted(files)),
        motor=next((plan.motor for plan in project.plan_tables), None),
        assumptions=assumed,
    )
    say_json(named(QUESTION.record)(begun))
    return DONE


def _say(folder: Path, files: Mapping[str, str], project: "Project") -> int:
    """What was written, what was assumed, what comes next."""
    from goodflight.project.newcomer_assumed import still_assumed

    click.echo(f"Project written to {folder}. What was not asked is marked guess in its files.")
    left = still_assumed(project)
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
    record="outputs.record:record",
    result="outputs.done:Begun",
    answers=(("new --list", "outputs.done:FirstForm"),),
    project=False,
    run=run,
)
