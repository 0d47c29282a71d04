"""`goodflight card`: what to do at every wind, for a phone without a network, or on paper."""

from pathlib import Path

import click

from goodflight.cli import DONE, options, progress
from goodflight.cli.question import Question, loaded, named, say_json
from goodflight.cli.shell import refused, write_bytes

KINDS = ("html", "a5", "a6")


def _winds(texts: tuple[str, ...]) -> tuple[float, ...]:
    from goodflight.quantity import QuantityError, parse

    try:
        return tuple(sorted({parse(text, "wind").value for text in texts}))
    except QuantityError as error:
        raise refused("--wind", error.found, error.expected, error.advice) from error


@options.folder
@options.plan
@options.flights(150)
@options.seed
@options.units
@options.as_json
@click.option(
    "--as",
    "kind",
    default="html",
    show_default=True,
    type=click.Choice(KINDS),
    help="A file for the phone, or PDF of that paper.",
)
@click.option(
    "--wind",
    "winds",
    multiple=True,
    metavar="SPEED",
    help="Mean wind, e.g. 4m/s; once for each. 1 to 9 m/s and the half step at the limit if none.",
)
@click.option("-o", "--out", metavar="FILE", type=options.FOLDER, help="Where it goes.")
def run(
    folder: Path,
    plan: str | None,
    flights: int,
    seed: int,
    units: str,
    as_json: bool,
    kind: str,
    winds: tuple[str, ...],
    out: Path | None,
) -> int:
    """Work the card out and write it."""
    project, speeds = loaded(folder, plan), _winds(winds)
    progress.ready_kernel()
    with progress.working(f"simulating {flights} flights for each wind, lean, delay and motor"):
        card = named(QUESTION.function)(
            project, plan, winds=speeds, tilts=None, flights=flights, seed=seed, units=units
        )
    if kind == "html":
        content = named("page.card_file:card_html")(project, card, units).encode()
    else:
        content = named("outputs.field_card.paper:card_pdf")(card, kind, units)
    end = "html" if kind == "html" else f"{kind}.pdf"
    target = out or Path(f"{folder.resolve().name}-card.{end}")
    write_bytes(target, content)
    if as_json:
        say_json(named(QUESTION.record)(card))
        return DONE
    for _, line in named("outputs.field_card.words:top_lines")(card, units):
        click.echo(line)
    click.echo(f"Saved in {target}, {max(1, len(content) // 1000)} kB")
    return DONE


QUESTION = Question(
    name="card",
    place=96,
    help="Field card: what to do at every wind, and the lists to tick, for a phone or paper.",
    asks="What do I do on the field at the wind that blows now?",
    how="card DIR",
    function="studies.field.card:card",
    record="outputs.record:record",
    result="studies.field.card:FieldCard",
    also=(
        ("The same on paper?", "card DIR --as a6"),
        ("How high may it go in each wind to come down on the field?", "card DIR --json"),
    ),
    run=run,
)
