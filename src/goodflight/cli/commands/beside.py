"""`goodflight beside`: two plans or two rockets side by side."""

from pathlib import Path

import click

from goodflight.cli import options, progress
from goodflight.cli.question import Question, loaded, named


@options.folder
@options.plan
@click.option("--with", "against", metavar="PLAN", help="The other plan.")
@click.option("--other", metavar="DIR", type=options.FOLDER, help="Another rocket's folder.")
@click.option(
    "--was",
    metavar="FILE N",
    type=(str, click.IntRange(min=1)),
    default=None,
    help="The same rocket with version N of FILE, as `versions` lists them.",
)
@options.flights(1000)
@options.seed
@options.units
@options.as_json
def run(
    folder: Path,
    plan: str | None,
    against: str | None,
    other: Path | None,
    was: tuple[str, int] | None,
    flights: int,
    seed: int,
    units: str,
    as_json: bool,
) -> int:
    """Fly both with the same random figures and show what differs."""
    project = loaded(folder, plan)
    second = loaded(other or folder, against, "--with") if other or against else None
    version = ""
    if was is not None:
        if other is not None:
            words = "--was is of the same rocket; leave --other out"
            raise click.UsageError(words, click.get_current_context())
        second = named("project.history:as_it_was")(project, *was)
        version = f"{was[0]} version {was[1]}"
        against = against or project.plan(plan).name
    progress.ready_kernel()
    with progress.working(f"flying {flights} flights of each"):
        found = named(QUESTION.function)(
            project, plan, against, other=second, flights=flights, seed=seed, version=version
        )
    return QUESTION.show(found, units, as_json)


QUESTION = Question(
    name="beside",
    place=33,
    help="Two plans, two rockets, or a rocket and what it was, side by side, row by row.",
    asks="What is better on this plan, what on that, and how does another rocket do?",
    how="beside DIR --plan A --with B",
    function="studies.questions.beside:beside",
    text="outputs.ledger.beside_text:beside_text",
    record="outputs.record:record",
    result="studies.questions.beside:Beside",
    flights=1000,
    run=run,
)
