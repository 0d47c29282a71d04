"""Call test functions by themselves, without the test runner, those first that notice soonest.

A function is called as often as its marks name figures for it. What asks for more (a fixture, made
up examples, a mark that skips it) is left to the runner.
"""

import importlib
import inspect
import itertools
import signal
import sys
import time
import warnings
from collections.abc import Iterator, Sequence
from pathlib import Path
from types import ModuleType
from typing import Any

Call = tuple[str, str, int]  # file, function, which of its calls
_RUNNERS = ("xfail", "skip", "skipif", "slow", "usefixtures")  # marks that only the runner knows


def files_of(tests: Sequence[str], root: Path) -> list[str]:
    """Files of tests, those of a folder one by one; of `file::function` the file."""
    found: list[str] = []
    for each in tests:
        place = root / each.partition("::")[0]
        inside = sorted(place.rglob("test_*.py")) if place.is_dir() else [place]
        found += [str(path.relative_to(root)) for path in inside]
    return found


def _imported(file: str) -> ModuleType:
    folder, name = str(Path(file).parent), Path(file).stem
    if folder not in sys.path:
        sys.path.insert(0, folder)
    return importlib.import_module(name)


def _marks(holder: object) -> list[Any]:
    marks = getattr(holder, "pytestmark", [])
    return list(marks) if isinstance(marks, list) else [marks]


def _axis(mark: Any) -> list[dict[str, Any]] | None:
    names = mark.args[0]
    names = [each.strip() for each in names.split(",")] if isinstance(names, str) else list(names)
    axis = []
    for value in mark.args[1]:
        if type(value).__name__ == "ParameterSet":
            if value.marks:
                return None
            values = value.values
        else:
            values = value if len(names) > 1 else (value,)
        axis.append(dict(zip(names, values, strict=True)))
    return axis


def _calls(module: ModuleType, function: Any) -> list[dict[str, Any]] | None:
    """What a function is called with, once each; None: it asks for what only the runner gives."""
    marks = _marks(function)
    if hasattr(function, "hypothesis"):
        return None
    if any(mark.name in _RUNNERS for mark in [*marks, *_marks(module)]):
        return None
    axes = [_axis(mark) for mark in marks if mark.name == "parametrize"]
    given = [axis for axis in axes if axis is not None]
    if len(given) < len(axes):
        return None
    each = [
        {k: v for part in parts for k, v in part.items()} for parts in itertools.product(*given)
    ]
    wanted = set(inspect.signature(function).parameters)
    return each if all(set(one) == wanted for one in each) else None


def _functions(file: str) -> Iterator[tuple[str, Any]]:
    module = _imported(file)
    makes_itself = any(_is_autouse(each) for each in vars(module).values())
    for name, function in list(vars(module).items()):
        ours = getattr(function, "__module__", None) == module.__name__
        if name.startswith(("test_", "Test")) and ours:
            plain = inspect.isfunction(function) and not makes_itself
            yield name, _calls(module, function) if plain else None


def _is_autouse(thing: object) -> bool:
    marker = getattr(thing, "_fixture_function_marker", None) or getattr(
        thing, "_pytestfixturefunction", None
    )
    return bool(getattr(marker, "autouse", False))


def _stop(*_: object) -> None:
    raise _TooLongError


def timed(file: str, longest_s: float, only: str) -> tuple[list[tuple[float, Call]], list[str]]:
    """Seconds of each call that passes within so much, and what is left to the runner.

    A file has ten times as long in all. Of one function alone where `only` is its name.
    """
    signal.signal(signal.SIGVTALRM, _stop)
    took: list[tuple[float, Call]] = []
    left: list[str] = []
    for name, calls in _functions(file):
        if only not in ("", name):
            continue
        passed = calls is not None
        for number, given in enumerate(calls or []):
            began = time.process_time()
            spent = sum(seconds for seconds, _ in took)
            if spent < 10.0 * longest_s and _passes(file, name, given, longest_s):
                took.append((time.process_time() - began, (file, name, number)))
            else:
                passed = False
                if spent + time.process_time() - began > 0.8 * longest_s:
                    break  # the others would be as long
        if not passed:
            left.append(name)
    return took, left


class _TooLongError(BaseException):
    """So that no test takes it for one of its own."""


def _passes(file: str, name: str, given: dict[str, Any], longest_s: float = 0.0) -> bool:
    import pytest

    try:
        signal.setitimer(signal.ITIMER_VIRTUAL, longest_s)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            getattr(_imported(file), name)(**given)
    except pytest.skip.Exception:
        return True
    except (Exception, _TooLongError):
        return False
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0.0)
    return True


def first_failing(calls: Sequence[tuple[Call, float]]) -> Call | None:
    """The first of these that fails, or takes longer than the seconds beside it."""
    signal.signal(signal.SIGVTALRM, _stop)
    known: dict[tuple[str, str], list[dict[str, Any]]] = {}
    for call, longest_s in calls:
        file, name, number = call
        try:
            if (file, name) not in known:
                module = _imported(file)
                known[file, name] = _calls(module, getattr(module, name)) or []
            if not _passes(file, name, known[file, name][number], longest_s):
                return call
        except Exception:  # not even its figures can be worked out
            return call
    return None
