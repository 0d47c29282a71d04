"""`goodflight ballast`: grams in the nose for a margin asked for, and what else they change."""

from pathlib import Path

import click

from goodflight.cli import options, progress
from goodflight.cli.question import Question, loaded, named


@options.folder
@options.plan
@click.option(
    "--margin",
    metavar="CALIBRES",
    default=1.5,
    show_default=True,
    type=click.FLOAT,
    help="Least static margin, ready to fly and at burnout.",
)
@click.option("--keep", is_flag=True, help="Write the ballast into rocket.toml.")
@options.flights(1000)
@options.seed
@options.units
@options.as_json
def run(
    folder: Path,
    plan: str | None,
    margin: float,
    keep: bool,
    flights: int,
    seed: int,
    units: str,
    as_json: bool,
) -> int:
    """Ask for the ballast, show it, and write it where asked to."""
    project = loaded(folder, plan)
    progress.ready_kernel()
    with progress.working(f"flying {flights} flights without and with ballast"):
        study = named(QUESTION.function)(project, plan, margin, flights=flights, seed=seed)
    written = keep and study.mass_kg > 0.0
    if written:
        writes = named("studies.questions.ballast:writes_of")(project, plan, study.mass_kg)
        to_do = [(f"fix {1000 * study.mass_kg:.0f} g of ballast in the nose", "minutes")]
        named("project.part_forms:keep")(project, writes, to_do)
    shown = QUESTION.show(study, units, as_json)
    if written and not as_json:
        click.echo("Written into rocket.toml. Fix it, balance the rocket, enter it with weigh.")
    return shown


QUESTION = Question(
    name="ballast",
    place=47,
    help="Ballast in the nose for a margin, how fixed, what else they change.",
    asks="How much ballast do I need in the nose, and what does it cost me?",
    how="ballast DIR --margin 1.5",
    function="studies.questions.ballast:ballast",
    text="outputs.scale.ballast_text:ballast_text",
    record="outputs.record:record",
    result="studies.questions.ballast:BallastStudy",
    flights=1000,
    run=run,
)
