"""`goodflight order`: in which order to build it; a hand-made order checked; steps ticked."""

from pathlib import Path
from typing import TYPE_CHECKING

import click

from goodflight.cli import CHECKED, DONE, options
from goodflight.cli.question import Question, loaded, named, say_json
from goodflight.cli.shell import BadInputError, no_such, refused

if TYPE_CHECKING:
    from goodflight.project import Project

MOST_BYTES = 100_000  # of a hand-made order


@options.folder
@options.plan
@click.option(
    "--check",
    metavar="FILE",
    type=options.FOLDER,
    help="Check your own order: one step a line, by key or title.",
)
@click.option("--tick", metavar="STEP", help="Mark a step as done, in build.toml.")
@click.option("--untick", metavar="STEP", help="Mark a step as not done.")
@click.option("--mass", metavar="MASS", help="With --tick: weight at this state, e.g. 212 g.")
@click.option("--photo", metavar="FILE", help="With --tick: file name of a photo.")
@click.option("--anyway", is_flag=True, help="With --tick: also a step whose turn has not come.")
@options.as_json
def run(
    folder: Path,
    plan: str | None,
    check: Path | None,
    tick: str | None,
    untick: str | None,
    mass: str | None,
    photo: str | None,
    anyway: bool,
    as_json: bool,
) -> int:
    """Show the order, or check one, after a step is ticked where that is asked for."""
    project = loaded(folder, plan)
    if check is not None:
        return _check(project, plan, check, as_json)
    if tick or untick:
        project = _tick(
            project,
            key=tick or untick or "",
            done=bool(tick),
            mass=mass,
            photo=photo,
            anyway=anyway,
        )
    found = named(QUESTION.function)(project, plan)
    if as_json:
        say_json(named(QUESTION.record)(found))
    elif tick or untick:
        from goodflight.outputs.bench.order_text import ticked_text

        click.echo(ticked_text(found, tick or untick or "", units=project.head.units), nl=False)
    else:
        click.echo(named(QUESTION.text)(found, units=project.head.units), nl=False)
    return DONE


def _check(project: "Project", plan: str | None, file: Path, as_json: bool) -> int:
    from goodflight.outputs.bench.order_text import keys_in, refusal_text
    from goodflight.outputs.bench.records import refusal_record
    from goodflight.project.places import input_text
    from goodflight.studies.bench.order import check_order
    from goodflight.studies.bench.steps import steps_of

    advice = "name a text with one step a line; `goodflight order DIR` shows the steps' keys"
    text = input_text(file, MOST_BYTES, advice)
    steps = steps_of(project, plan)
    refusals = check_order(steps, keys_in(text, steps))
    if as_json:
        say_json(refusal_record(refusals))
    else:
        click.echo(refusal_text(refusals), nl=False)
    return CHECKED["fails" if refusals else "ok"]


def _tick(
    project: "Project",
    key: str,
    done: bool,
    mass: str | None,
    photo: str | None,
    anyway: bool,
) -> "Project":
    from goodflight.quantity import QuantityError, parse
    from goodflight.studies.bench.steps import steps_of
    from goodflight.studies.bench.ticking import TooEarly
    from goodflight.studies.bench.ticking import tick as save

    keys = [step.key for step in steps_of(project)]
    if key not in keys:
        raise BadInputError(no_such("--tick" if done else "--untick", key, keys))
    if mass is not None:
        try:
            parse(mass, "mass")
        except QuantityError as error:
            raise refused("--mass", error.found, error.expected, error.advice) from error
    try:
        return save(project, key, done, mass, photo, anyway=anyway)
    except TooEarly as error:
        raise refused(
            f"--tick {key}",
            "; ".join(error.reasons),
            "a step whose turn has come",
            "tick those first; if it is done all the same, add --anyway",
        ) from error


QUESTION = Question(
    name="order",
    place=100,
    help="Order of assembly: no step blocks access to a later one.",
    asks="In which order do I build it?",
    how="order DIR",
    function="studies.bench.steps:assembly_order",
    text="outputs.bench.order_text:order_text",
    record="outputs.bench.records:order_record",
    result="studies.bench.steps:Order",
    more="outputs.bench.records:ORDER",
    answers=(("order --check", "outputs.bench.records:OrderChecked"),),
    also=(("Does my own order work?", "order DIR --check FILE"),),
    see="bench.md",
    run=run,
)
