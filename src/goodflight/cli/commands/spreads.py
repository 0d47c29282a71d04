"""`goodflight spreads`: every uncertain figure, to read through without a project."""

import click

from goodflight.cli.question import Question

QUESTION = Question(
    name="spreads",
    place=76,
    help="Every uncertain figure: how wide it is taken, why, how it is measured.",
    asks="How wide is each uncertain figure taken, why, and which rows does it move?",
    how="spreads",
    function="studies.questions.spreads:spreads",
    text="outputs.ledger.spread_reference:spreads_text",
    record="outputs.record:record",
    result="studies.questions.spreads:SpreadList",
    project=False,
    options=(click.option("--row", metavar="KEY", help="Only those that one row needs."),),
)
