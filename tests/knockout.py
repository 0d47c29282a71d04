"""A project with one entry left out at a time: what the ledger makes of it.

What is left out may be refused, be asked for, or widen what it stood for. It may not make the
answer better without saying so: `better` tells what does.
"""

import json
import math
import tomllib
from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from goodflight.project import Project, ProjectErrors, read_project
from goodflight.quantity import Refused
from goodflight.studies.case.planned import Sensitivity
from goodflight.studies.case.project_case import case_of
from goodflight.studies.judging.counting import counted
from goodflight.studies.judging.evaluate import Evaluated, any_failing, evaluate
from goodflight.studies.sampling.flights import fly_trials
from goodflight.studies.sampling.quantity import Factor, Family, Quantity

ERRORS = 3.0  # standard errors of a paired difference that are more than luck
WIDER = 1.001  # at least, for a spread that has grown

Files = Mapping[str, str]
Place = tuple[str | int, ...]


def steps(data: Any, at: Place = ()) -> Iterator[Place]:
    """Every key, every table and every row of a file, by its steps."""
    for key, value in data.items() if isinstance(data, dict) else enumerate(data):
        yield (*at, key)
        rows = isinstance(value, list) and value and isinstance(value[0], dict)
        if isinstance(value, dict) or rows:
            yield from steps(value, (*at, key))


def words(data: Any, place: Place) -> str:
    """A place of a file in words: part[fins].edges."""
    said = ""
    for step in place:
        data = data[step]
        named = isinstance(step, int) and isinstance(data, dict) and data.get("name", step + 1)
        said += f"[{named}]" if isinstance(step, int) else f".{step}" if said else step
    return said


def without(data: Mapping[str, Any], place: Place) -> str:
    """The text of a file with one entry left out."""
    whole = deepcopy(data)
    value: Any = whole
    for step in place[:-1]:
        value = value[step]
    del value[place[-1]]
    return _text(whole)


def _text(data: Mapping[str, Any]) -> str:
    """A file's text: its keys, then a table or rows each, with all that is in them on one line."""
    keys, tables = list[str](), list[str]()
    for key, value in data.items():
        rows = [value] if isinstance(value, dict) else value if isinstance(value, list) else []
        if rows and all(isinstance(row, dict) for row in rows):
            head = f"[{key}]" if isinstance(value, dict) else f"[[{key}]]"
            for row in rows:
                tables += [head, *(f"{name} = {_inline(each)}" for name, each in row.items())]
        else:
            keys.append(f"{key} = {_inline(value)}")
    return "\n".join([*keys, *tables, ""])


def _inline(value: Any) -> str:
    if isinstance(value, dict):
        return "{" + ", ".join(f"{key} = {_inline(each)}" for key, each in value.items()) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_inline, value)) + "]"
    return json.dumps(value, ensure_ascii=False)


def falls(before: np.ndarray[Any, Any], after: np.ndarray[Any, Any]) -> bool:
    """Whether fewer of the same flights fail, beyond three standard errors of those that change."""
    better, worse = int((before & ~after).sum()), int((after & ~before).sum())
    return better - worse > ERRORS * math.sqrt(better + worse)


@dataclass(frozen=True)
class Judged:
    """All rows of one plan, those that cannot happen left out, and the flights that fail."""

    rows: Mapping[str, Evaluated]
    states: Mapping[str, str]
    factors: tuple[Factor, ...]
    failing: np.ndarray[Any, np.dtype[np.bool_]]
    lengths: tuple[Sensitivity, ...]

    @cached_property
    def spreads(self) -> dict[str, float]:
        """How far a row scatters, by its key."""
        return {key: _spread(row) for key, row in self.rows.items()}

    @cached_property
    def sigmas(self) -> dict[str, float]:
        """Spread of every figure, by its key."""
        return {factor.key: factor.sigma for factor in self.factors}


def judged(
    project: Project, plan: str, flights: int, like: tuple[Sensitivity, ...] | None = None
) -> Judged:
    """The rows of a plan on few flights; like : what its lengths do, where that is known."""
    case = case_of(project, plan, like)
    view = fly_trials(case, flights, 1)
    found = evaluate(view)
    rows = {row.limit.key: row for row in found if not row.not_here}
    states = {key: counted(row, flights)["state"] for key, row in rows.items()}
    failing = any_failing(tuple(rows.values()))
    return Judged(rows, states, view.trials.factors, failing, case.uncertainty.sensitivities)


def _spread(row: Evaluated) -> float:
    return float(np.nanstd(row.metric)) if np.isfinite(row.metric).any() else 0.0


def _nearer(key: str, before: Judged, after: Judged) -> bool:
    """Whether a row lies further from failing than before: a tenth of its spread."""
    gained = float(np.nanmean(after.rows[key].metric) - np.nanmean(before.rows[key].metric))
    was, now = before.spreads[key], after.spreads[key]
    return gained > 0.1 * was or now < 0.9 * was


def _asked(before: Judged, after: Judged) -> tuple[bool, set[Quantity | Family]]:
    """Whether a guess is drawn now that was not, and what of those that were is wider."""
    was, guessed = before.sigmas, [factor for factor in after.factors if factor.guessed]
    drawn = [factor for factor in guessed if factor.key in was]
    wider = {factor.of for factor in drawn if factor.sigma > WIDER * was[factor.key]}
    return len(drawn) < len(guessed), wider


def better(before: Judged, after: Judged) -> list[str]:
    """What became better though something was left out; empty: nothing did."""
    told, open_ = [], False
    new, asked = _asked(before, after)
    for key, row in before.rows.items():
        now, was = after.rows.get(key), before.states[key]
        if now is None:
            if was != "ok" or row.failing.any():
                told.append(f"{key}: {was}, gone")
            continue
        state = after.states[key]
        if state == "unknown":
            open_ = open_ or was != "unknown"
            continue
        if was == "unknown":
            told.append(f"{key}: unknown, now {state}")
            continue
        grown = after.spreads[key] > WIDER * before.spreads[key]
        wider = grown or new or not asked.isdisjoint(row.limit.needs)
        open_ = open_ or wider
        fell = falls(row.failing, now.failing)
        if fell and not wider:
            told.append(f"{key}: {row.failing.mean():.3f} to {now.failing.mean():.3f}")
        elif was != "ok" and state == "ok" and not wider and _nearer(key, before, after):
            told.append(f"{key}: {was}, now ok")
    if falls(before.failing, after.failing) and not open_:
        told.append(f"total: {before.failing.mean():.3f} to {after.failing.mean():.3f}")
    return told


def like(file: str, data: Mapping[str, Any], place: Place) -> str:
    """What an entry is, whichever part or table of its kind it stands in: part[tube].mass."""
    value: Any = data
    said = file
    for step in place:
        value = value[step]
        if isinstance(step, str):
            said += f".{step}"
        elif isinstance(value, dict) and "kind" in value:
            said += f"[{value['kind']}]"
    return said


def left_out(
    files: Files, plan: str, flights: int, seen: set[str]
) -> Iterator[tuple[str, list[str]]]:
    """Every kind of entry that is not `seen` yet, left out once: its name, and what is better.

    A motor's sheet, names and kinds are not tried. What stands outside rocket.toml and plans.toml
    changes nothing of what the rocket's lengths do.
    """
    whole = judged(read_project(files), plan, flights)
    for file, text in files.items():
        if not file.endswith(".toml") or file.startswith("motors/"):
            continue
        data = tomllib.loads(text)
        same = None if file in ("rocket.toml", "plans.toml") else whole.lengths
        for place in (each for each in steps(data) if isinstance(each[-1], str)):
            kind = like(file, data, place)
            if kind in seen or place[-1] in ("name", "kind"):
                continue
            seen.add(kind)
            left = {**files, file: without(data, place)}
            try:
                now = judged(read_project(left), plan, flights, same)
            except ProjectErrors as error:
                assert all(fault.file and fault.advice for fault in error.faults), kind
            except Refused as error:
                assert error.advice, kind
            else:
                yield f"{file}:{words(data, place)}", better(whole, now)
