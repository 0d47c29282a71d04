"""How `goodflight new` asks: a dialogue at a terminal, lines from a pipe, or a file of answers."""

import sys
import textwrap
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from goodflight.cli.shell import BadInputError, no_such

if TYPE_CHECKING:
    from goodflight.project.newcomer import Question


def check_empty(folder: Path) -> None:
    """Refuse a folder with something in it before anything is asked."""
    from goodflight.project.saving import is_empty

    if not is_empty(folder):
        raise BadInputError(
            {
                "file": str(folder),
                "found": "something is there already",
                "expected": "a new or empty folder",
                "advice": "give another name; nothing was written",
            }
        )


def from_file(path: Path) -> dict[str, str]:
    """The project's files from a file of answers; every fault in it is named at once."""
    from goodflight.project.newcomer import QUESTIONS, check_answer, project_files
    from goodflight.project.newcomer_fit import AnswersError
    from goodflight.project.newcomer_known import KNOWN, check_known
    from goodflight.quantity import QuantityError

    given = {key: str(value) for key, value in _read(path).items()}
    asked = [(each.id, partial(check_answer, each)) for each in QUESTIONS]
    asked += [(each.id, partial(check_known, each)) for each in KNOWN]
    allowed = [key for key, _ in asked]
    faults = [
        {**no_such(key, key, allowed), "file": str(path)} for key in given if key not in allowed
    ]
    for key, check in asked:
        try:
            check(given.get(key, ""))
        except QuantityError as error:
            faults.append(
                {
                    "file": str(path),
                    "key": key,
                    "found": error.found,
                    "expected": error.expected,
                    "advice": error.advice,
                }
            )
    if faults:
        raise BadInputError(*faults)
    try:
        return project_files(given)
    except AnswersError as error:
        raise BadInputError(
            *(
                {
                    "file": str(path),
                    "key": key,
                    "found": given.get(key, "the default"),
                    "expected": words,
                    "advice": "change this answer or the one it clashes with",
                }
                for key, words in error.faults.items()
            )
        ) from error


def _read(path: Path) -> dict[str, Any]:
    import tomllib

    try:
        return tomllib.loads(path.read_text(encoding="utf-8"))
    except (OSError, UnicodeDecodeError, tomllib.TOMLDecodeError) as error:
        raise BadInputError(
            {
                "file": str(path),
                "found": str(error),
                "expected": 'lines such as mass = "1.4 kg"',
                "advice": "`goodflight new DIR --list` shows every question",
            }
        ) from error


def from_dialogue(given: dict[str, str]) -> dict[str, str]:
    """Ask what is not given yet; an answer that does not fit is asked for again."""
    from goodflight.project.newcomer import QUESTIONS, project_files
    from goodflight.project.newcomer_fit import AnswersError

    ask = _ask_person if sys.stdin.isatty() else _next_line
    if not given and sys.stdin.isatty():
        click.echo("Enter takes the answer in brackets. Units are needed: 79 mm, 3 1/8 in, 1.4 kg.")
    for each in QUESTIONS:
        if each.id not in given:
            given[each.id] = _asked(each, ask)
    while True:
        try:
            return project_files(given)
        except AnswersError as error:
            if not sys.stdin.isatty():
                raise BadInputError(
                    {
                        "file": "answers",
                        "key": error.question,
                        "found": given[error.question],
                        "expected": error.advice,
                        "advice": "change this answer",
                    }
                ) from error
            say(error.advice)
            question = next(each for each in QUESTIONS if each.id == error.question)
            given[error.question] = _asked(question, ask)


def say(words: str) -> None:
    """Why an answer is asked for again, folded for a narrow terminal."""
    click.echo(textwrap.fill(words, 79, initial_indent="  ", subsequent_indent="  "))


def _asked(question: "Question", ask: Callable[["Question"], str]) -> str:
    from goodflight.project.newcomer import check_answer
    from goodflight.quantity import QuantityError

    while True:
        text = ask(question)
        try:
            return check_answer(question, text)
        except QuantityError as error:
            if not sys.stdin.isatty():
                raise BadInputError(
                    {
                        "file": "answers",
                        "key": question.id,
                        "found": error.found,
                        "expected": error.expected,
                        "advice": error.advice,
                    }
                ) from error
            say(f"found {error.found}; expected {error.expected}; {error.advice}")


def _ask_person(question: "Question") -> str:
    click.echo(f"  {question.why}")
    answer: str = click.prompt(question.prompt, default=question.default, err=False)
    return answer


def _next_line(_: "Question") -> str:
    """Answers from a pipe, one a line; an empty line or the end takes the default."""
    return sys.stdin.readline().strip()
