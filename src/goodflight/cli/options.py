"""Options that several commands share."""

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

F = TypeVar("F", bound=Callable[..., Any])

FOLDER = click.Path(path_type=Path)

folder = click.argument("folder", metavar="DIR", type=FOLDER)
plan = click.option("--plan", metavar="NAME", help="Which planned flight; the first if not given.")
seed = click.option(
    "--seed",
    default=1,
    show_default=True,
    type=click.IntRange(0, 2**32 - 1),
    help="Same seed, same answer on one machine.",
)
as_json = click.option("--json", "as_json", is_flag=True, help="Answer as JSON (docs/json.md).")


def _shown(ctx: click.Context, _param: click.Parameter, asked: str | None) -> str:
    """The units asked for, or those of the project that is asked."""
    if asked is not None or "folder" not in ctx.params:
        return asked or "metric"
    from goodflight.project import shown_in

    return shown_in.units_of(ctx.params["folder"])


def units_of(words: str) -> Callable[[F], F]:
    """`--units`, by default those of the project, with what it is for in words."""
    return click.option(
        "--units", callback=_shown, type=click.Choice(["metric", "imperial"]), help=words
    )


units = units_of("Units shown, else as rocket.toml says; JSON and CSV are always SI.")


def flights(default: int) -> Callable[[F], F]:
    """`--flights N` with a default."""
    return click.option(
        "--flights",
        default=default,
        show_default=True,
        type=click.IntRange(20, 200_000),
        help="Flights simulated.",
    )
