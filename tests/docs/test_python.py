"""The Python interface: a function for each command, listed once, each with a running example."""

import doctest
import inspect
import subprocess
import sys
from pathlib import Path

import pytest

import goodflight
from goodflight.cli.commands import questions
from goodflight.project.demo import write_demo

FUNCTIONS = [name for name in goodflight.__all__ if inspect.isfunction(getattr(goodflight, name))]


def test_every_command_has_a_function_and_every_listed_name_is_there() -> None:
    assert {each.python for each in questions()} <= set(FUNCTIONS)
    for name in goodflight.__all__:
        assert getattr(goodflight, name) is not None
    with pytest.raises(AttributeError, match="goodflight has no 'ledgers'; it has "):
        goodflight.ledgers  # type: ignore[attr-defined]  # noqa: B018


@pytest.mark.parametrize("name", FUNCTIONS)
def test_the_example_runs_where_the_demo_stands(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_demo(tmp_path / "fieldfare")
    monkeypatch.chdir(tmp_path)
    text = inspect.getdoc(getattr(goodflight, name)) or ""
    example = doctest.DocTestParser().get_doctest(text, {"goodflight": goodflight}, name, None, 0)
    assert example.examples, f"{name} has no example"
    said: list[str] = []
    failed = doctest.DocTestRunner().run(example, out=said.append)
    assert not failed.failed, "".join(said)


def test_a_name_is_loaded_when_it_is_first_used() -> None:
    code = (
        "import sys, goodflight\n"
        "assert not {'numpy', 'pydantic', 'click'} & set(sys.modules)\n"
        "from goodflight import fly\n"
        "slow = {'shapely', 'starlette', 'goodflight.studies.questions.ledger'}\n"
        "sys.exit(str(slow & set(sys.modules)) if slow & set(sys.modules) else 0)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr
