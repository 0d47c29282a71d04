"""`goodflight day DIR`: go, wait, change or walk away."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from goodflight.cli import options, progress
from goodflight.cli.question import Question, loaded, named

FLIGHTS = 100


def _typed(command: Callable[..., int]) -> Callable[..., int]:
    """One option for each entry that may be typed at the pad."""
    for key, (words, several) in reversed(named("project.day_typed:entries")().items()):
        shown = key.replace("_", "-")
        command = click.option(f"--{shown}", key, multiple=several, metavar="TEXT", help=words)(
            command
        )
    return command


@options.folder
@options.plan
@click.option(
    "--forecast",
    type=options.FOLDER,
    metavar="FILE",
    help="A forecast (.csv or .toml) in place of the one in day.toml.",
)
@options.flights(FLIGHTS)
@options.seed
@options.units
@options.as_json
def run(
    folder: Path,
    plan: str | None,
    forecast: Path | None,
    flights: int,
    seed: int,
    units: str,
    as_json: bool,
    **typed: Any,
) -> int:
    """Read what was typed, ask the board, show it."""
    project = loaded(folder, plan)
    told = None if forecast is None else named("project.day_file:read_forecast")(forecast)
    now = named("project.day_typed:typed_now")(typed)
    asked = named("studies.field.asking:asked_of")(now, told)
    progress.ready_kernel()
    with progress.working("simulating now and the coming hours"):
        board = named(QUESTION.function)(project, plan, asked, flights, seed)
    return QUESTION.show(board, units, as_json)


QUESTION = Question(
    name="day",
    place=52,
    help="Go, wait, change or walk away: the plan in the weather of now and the coming hours.",
    asks="Do I fly now, wait, change something, or walk away?",
    how='day DIR --wind "3.5 m/s" --gust "5.6 m/s" --wind-from "230 deg" --cloud-base "950 m"',
    function="studies.field.day:day",
    beside=("studies.field.grid:field_grid",),
    text="outputs.field.text:day_text",
    record="outputs.record:record",
    result="studies.field.day:DayBoard",
    flights=FLIGHTS,
    options=(_typed,),
    also=(
        ("What does the forecast say of the coming hours?", "day DIR --forecast FILE.csv"),
        (
            "What did the last flights' drift say of the wind aloft?",
            'day DIR --seen "60 deg; 350 m; 75 s; 400 m"',
        ),
    ),
    run=run,
)
