"""`goodflight rows`: every way to fail, to read through without a project."""

import click

from goodflight.cli.question import Question

QUESTION = Question(
    name="rows",
    place=75,
    help="Every way to fail that is computed: when, what it needs, its sources.",
    asks="Which ways to fail are computed, what does each need, and from which source?",
    how="rows",
    function="studies.questions.rows:rows",
    text="outputs.ledger.reference:rows_text",
    record="outputs.record:record",
    result="studies.questions.rows:RowList",
    project=False,
    options=(
        click.option("--phase", metavar="PHASE", help="Only one phase of the flight, e.g. pad."),
    ),
    also=(("What can happen on the pad, on the way down, ...?", "rows --phase PHASE"),),
)
