"""The command `separation`: how hard the rocket should pull apart."""

from pathlib import Path

import click

from goodflight.cli import DONE, options
from goodflight.cli.shell import terminal
from goodflight.cli.study_commands import flown


@click.command()
@options.folder
@options.plan
@options.flights(1000)
@options.seed
@options.units
@options.as_json
def separation(
    folder: Path, plan: str | None, flights: int, seed: int, units: str, as_json: bool
) -> int:
    """How hard the rocket should pull apart: lowest and highest for a luggage scale."""
    from goodflight.outputs.json_ import to_json
    from goodflight.outputs.json_separation import separation_record
    from goodflight.outputs.terminal_separation import separation_text
    from goodflight.studies.questions.separation_window import separation_window as ask

    study = flown(ask, folder, plan, flights, seed)
    text = to_json(separation_record(study)) if as_json else separation_text(study, terminal(units))
    click.echo(text, nl=False)
    return DONE
