"""How `goodflight new` asks: a dialogue at a terminal, lines from a pipe, or a file of answers."""

from __future__ import annotations

import sys
import textwrap
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from goodflight.cli.shell import BadInputError, no_such

if TYPE_CHECKING:
    from goodflight.project.newcomer import Question
    from goodflight.project.newcomer_asked import Known

    Asked = Question | Known

MOST_BYTES = 1_000_000  # of a file of answers


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
    from goodflight.project.motor_told import TOLD, check_told
    from goodflight.project.newcomer import QUESTIONS, check_answer, project_files
    from goodflight.project.newcomer_assumed import ASSUMED
    from goodflight.project.newcomer_fit import AnswersError
    from goodflight.project.newcomer_known import KNOWN, check_known
    from goodflight.quantity import QuantityError

    given = {key: str(value) for key, value in _read(path).items()}
    asked = [(each.id, partial(check_answer, each)) for each in QUESTIONS]
    asked += [(each.id, partial(check_told, each)) for each in TOLD]
    asked += [(each.id, partial(check_known, each)) for each in (*KNOWN, *ASSUMED)]
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

    from goodflight.project.places import input_text

    text = input_text(path, MOST_BYTES, "`goodflight new DIR --list` shows every question")
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
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
    from goodflight.project.motor_told import TOLD, check_told
    from goodflight.project.newcomer import (
        QUESTIONS,
        check_answer,
        defaults_of,
        project_files,
    )
    from goodflight.project.newcomer_fit import AnswersError

    ask = _ask_person if sys.stdin.isatty() else _next_line
    if not given and sys.stdin.isatty():
        click.echo("Enter takes the answer in brackets. Units are needed: 79 mm, 3 1/8 in, 1.4 kg.")
    asked, told = {each.id: each for each in QUESTIONS}, {each.id: each for each in TOLD}

    def answer(key: str) -> str:
        if key in told:
            return _asked(told[key], partial(check_told, told[key]), ask)
        others = {other: text for other, text in given.items() if other != key}
        offered = replace(asked[key], default=defaults_of(others)[key])
        return _asked(offered, partial(check_answer, offered), ask)

    name, *rest = told
    every: dict[str, Asked] = {**asked, **told}
    for key, question in every.items():
        if key in rest and not given.get(name):
            continue  # no motor is chosen: the rest of it is not asked
        if key not in given and question.dimension != "table":
            given[key] = answer(key)
    while True:
        try:
            return project_files(given)
        except AnswersError as error:
            if not sys.stdin.isatty():
                raise _refused(
                    error.question,
                    given.get(error.question, "nothing"),
                    error.advice,
                    "change this answer",
                ) from error
            say(error.advice)
            given[error.question] = answer(error.question)


def say(words: str) -> None:
    """Why an answer is asked for again, folded for a narrow terminal."""
    click.echo(textwrap.fill(words, 79, initial_indent="  ", subsequent_indent="  "))


def _refused(key: str, found: str, expected: str, advice: str) -> BadInputError:
    return BadInputError(
        {"file": "answers", "key": key, "found": found, "expected": expected, "advice": advice}
    )


def _asked(question: Asked, check: Callable[[str], str], ask: Callable[[Asked], str]) -> str:
    from goodflight.quantity import QuantityError

    while True:
        text = ask(question)
        try:
            return check(text)
        except QuantityError as error:
            if not sys.stdin.isatty():
                raise _refused(question.id, error.found, error.expected, error.advice) from error
            say(str(error))


def _ask_person(question: Asked) -> str:
    click.echo(f"  {question.why}")
    shown = bool(question.default)
    answer: str = click.prompt(question.prompt, default=question.default, show_default=shown)
    return answer


def _next_line(_: Asked) -> str:
    """Answers from a pipe, one a line; an empty line or the end takes the default."""
    return sys.stdin.readline().strip()
