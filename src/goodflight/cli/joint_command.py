"""The command `joint`: how hard the joint should pull."""

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
def joint(
    folder: Path, plan: str | None, flights: int, seed: int, units: str, as_json: bool
) -> int:
    """How hard the joint should pull: least and most for a luggage scale."""
    from goodflight.outputs.json_ import to_json
    from goodflight.outputs.json_joint import joint_record
    from goodflight.outputs.terminal_joint import joint_text
    from goodflight.studies.questions.joint_window import joint_window as ask

    study = flown(ask, folder, plan, flights, seed)
    text = to_json(joint_record(study)) if as_json else joint_text(study, terminal(units))
    click.echo(text, nl=False)
    return DONE
