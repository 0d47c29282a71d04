"""`goodflight todo`: what was kept and is still to be bought or done."""

import click

from goodflight.cli.question import Question

QUESTION = Question(
    name="todo",
    place=61,
    help="What was kept and is still to be bought or done; tick it off.",
    asks="Which of the changes I kept must I still buy or do?",
    how="todo DIR --done 2",
    function="studies.questions.todo:todo",
    text="outputs.ledger.todo_text:todo_text",
    record="outputs.record:record",
    result="studies.questions.todo:TodoList",
    options=(
        click.option("--done", type=int, multiple=True, metavar="N", help="Tick item N."),
        click.option(
            "--again", type=int, multiple=True, metavar="N", help="Take the tick of item N back."
        ),
    ),
)
