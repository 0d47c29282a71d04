"""`goodflight stamp`: whether a printed sheet still shows what the project has."""

import click

from goodflight.cli.question import Question

QUESTION = Question(
    name="stamp",
    place=92,
    help="Whether a printed sheet still holds, from the stamp in its foot.",
    asks="Does the sheet I printed still hold after the weigh-in?",
    how='stamp DIR "7F3A C21B"',
    function="studies.bench.stamps:stamp",
    text="outputs.scale.stamp_text:stamp_text",
    record="outputs.record:record",
    result="studies.bench.stamps:StampAsked",
    options=(click.argument("stamp", required=False, default="", metavar="[STAMP]"),),
)
