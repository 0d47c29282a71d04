"""Made-up projects from the demo: extreme, mutated, broken; and what must hold for every one.

`made_up(random)` gives the texts of one project, `checked(texts, ...)` says what became of it and
raises when it ended in anything but an answer or a refusal in words. The same code runs under
hypothesis (a few hundred, in the tests) and in the long run (`tests/long_fuzz.py`).
"""

import json
import math
import random
import re
from collections.abc import Mapping
from typing import Any, Final

from goodflight.outputs.json_ import to_json
from goodflight.outputs.ledger.json_ import ledger_record
from goodflight.outputs.ledger.text import ledger_text
from goodflight.outputs.text_page import Terminal
from goodflight.project import ProjectErrors
from goodflight.project.budgets import MAX_FAULTS, widest_spread
from goodflight.project.demo import demo_files
from goodflight.project.flight_files import DayTable, PlanTable, SiteFile
from goodflight.project.head.separation import ChargeTable, RetentionTable, SeparationTable
from goodflight.project.motor_files import MotorFile
from goodflight.project.parts import PART_TABLES
from goodflight.project.reading import read_project
from goodflight.project.sheets import annotation_at
from goodflight.project.text_fields import QuantityField
from goodflight.quantity import Refused
from goodflight.quantity.units import dimension_of
from goodflight.studies.case.project_case import case_of
from goodflight.studies.questions.ledger import ledger_of

FILES: Final = demo_files()
_TOML: Final = tuple(name for name in FILES if name.endswith(".toml"))
_OTHER: Final = tuple(name for name in FILES if not name.endswith(".toml"))
_ENTRY: Final = re.compile(r'^([a-z_]+) = "([^"\n]*)"', re.MULTILINE)
_NUMBERS: Final = (
    "0", "-0", "1", "-1", "1e-30", "1e-9", "0.001", "1e3", "1e6", "1e9", "1e30", "1e31", "1e400",
    "nan", "inf", "1/3", "1 1/2", "1/0", "1,5", "1_000", "٣", "½", "0x10", "",
)  # fmt: skip
_UNITS: Final = ("mm", "m", "in", "g", "kg", "N", "s", "deg", "%", "MPa", "degC", "m/s", "km", "")
_SPREADS: Final = ("", " ± 0", " ± 1 %", " ± 15 %", " ± 25 %", " ± 60 %", " ± 100 %", " ± 1e9 %",
                   " ± 5 mm", " ± 1e30 m", " ± -1 %", " ± nan", " +- 3", " ± ± 1")  # fmt: skip
_ODD: Final = (
    "\u200b", "\u202e", "\x00", "\ufeff", "\u00e9", "\U0001f680", "\ud7ff", "'", '"', "\\", "\t",
    "[", "]", "{", "}", "#", "=", ".", "\r", "\n\n[[part]]\n", "\n[plan]\n",
)  # fmt: skip
_TABLES: Final = {"day": DayTable, "separation": SeparationTable, "charge": ChargeTable,
                  "retention": RetentionTable}  # fmt: skip


def made_up(rng: random.Random, sound: bool = False) -> dict[str, str]:
    """Texts of one project: the demo with one to four things done to it.

    sound : only figures that their entries take by themselves, so that most projects read.
    """
    texts = dict(FILES)
    good, bad = (_valid, _valid, _added), (_wild, _line, _signs, _rows)
    for _ in range(rng.choice((1, 1, 1, 2, 2, 3, 4))):
        rng.choice(good if sound or rng.random() < 0.5 else bad)(rng, texts)
    return texts


def _field(model: Any, key: str) -> QuantityField | None:
    """The kind of quantity a key holds; None when it holds none."""
    if key not in model.model_fields:
        return None
    found = annotation_at(model, (key,))
    kinds = [each for each in getattr(found, "__metadata__", ()) if isinstance(each, QuantityField)]
    return kinds[0] if kinds else None


def _extreme(rng: random.Random, field: QuantityField, text: str = "") -> str:
    """A text that this kind of entry takes, often at the end of its range, often widely spread."""
    unit = dimension_of(field.dimension).units[0]
    low = field.least if field.least is not None else (1e-9 if field.above is not None else -1e3)
    high = field.most if field.most is not None else 1e6
    base = _value(text, field)
    value = rng.choice(
        (
            low,
            high,
            base,
            base,
            base,
            0.5 * base,
            0.9 * base,
            1.2 * base,
            2.0 * base,
            10.0 * base,
            rng.uniform(low, high),
            math.exp(rng.uniform(math.log(max(low, 1e-6)), math.log(max(high, 1e-5)))),
        )
    )
    value = min(max(value, low), high)
    number = f"{(value - unit.offset) / unit.scale:.9g} {unit.symbol}".strip()
    if rng.random() < 0.4:
        return number
    wide, _ = widest_spread(field.dimension, value, field.widest)
    sigma = wide / unit.scale * rng.choice((0.0, 0.1, 0.4, 0.8, 0.99, 0.99999))
    return f"{number} ± {sigma:.6g} {unit.symbol}".strip()


def _value(text: str, field: QuantityField) -> float:
    try:
        return field.read(text).value
    except Exception:
        return 1.0


def _models(texts: Mapping[str, str], file: str, at: int) -> Any:
    """The model of the table that a place in a file lies in."""
    if file.startswith("motors/"):
        return MotorFile
    if file.startswith("sites/"):
        return SiteFile
    head = texts[file].rfind("\n[", 0, at)
    name = re.match(r"\n\[+([a-z_.]+)", texts[file][head:]) if head >= 0 else None
    table = name[1].split(".")[-1] if name else ""
    if table == "part":
        kind = re.search(r'kind = "([a-z_]+)"', texts[file][head:])
        return PART_TABLES.get(kind[1] if kind else "")
    return PlanTable if table == "plan" else _TABLES.get(table)


def _valid(rng: random.Random, texts: dict[str, str]) -> None:
    """One figure that is written becomes another valid one, mostly extreme."""
    file = rng.choice(("rocket.toml", "rocket.toml", "plans.toml", *_TOML))
    places = list(_ENTRY.finditer(texts[file]))
    for _ in range(20):
        if not places:
            return
        place = rng.choice(places)
        model = _models(texts, file, place.start())
        field = _field(model, place[1]) if model is not None else None
        if field is not None:
            new = _extreme(rng, field, place[2])
            texts[file] = texts[file][: place.start(2)] + new + texts[file][place.end(2) :]
            return


def _added(rng: random.Random, texts: dict[str, str]) -> None:
    """One figure that a table may hold is added to it, or stands there twice."""
    file = rng.choice(("rocket.toml", "rocket.toml", "rocket.toml", "plans.toml"))
    heads = [m for m in re.finditer(r"^\[+[a-z_.]+\]+[^\n]*\n", texts[file], re.MULTILINE)]
    if not heads:
        return
    head = rng.choice(heads)
    model = _models(texts, file, head.end())
    keys = [key for key in getattr(model, "model_fields", {}) if _field(model, key)]
    if not keys:
        return
    key = rng.choice(keys)
    field = _field(model, key)
    assert field is not None
    end = texts[file].find("\n[", head.end())
    block = texts[file][head.end() : end if end >= 0 else None]
    if rng.random() < 0.8:
        block = re.sub(rf"^{key} = .*\n?", "", block, flags=re.MULTILINE)
    new = f'{key} = "{_extreme(rng, field)}"\n{block}'
    texts[file] = texts[file][: head.end()] + new + (texts[file][end:] if end >= 0 else "")


def _wild(rng: random.Random, texts: dict[str, str]) -> None:
    """One text in quotes becomes a number, a unit and a spread that seldom go together."""
    file = rng.choice(_TOML)
    places = list(_ENTRY.finditer(texts[file]))
    if not places:
        return
    place = rng.choice(places)
    new = f"{rng.choice(_NUMBERS)} {rng.choice(_UNITS)}{rng.choice(_SPREADS)}"
    texts[file] = texts[file][: place.start(2)] + new + texts[file][place.end(2) :]


def _line(rng: random.Random, texts: dict[str, str]) -> None:
    """Lines are lost, doubled, swapped, or a whole table is repeated."""
    file = rng.choice((*_TOML, *_OTHER))
    rows = texts[file].splitlines(keepends=True)
    if len(rows) < 3:
        return
    i, j = rng.randrange(len(rows)), rng.randrange(len(rows))
    how = rng.randrange(5)
    if how == 0:
        del rows[i]
    elif how == 1:
        rows.insert(j, rows[i])
    elif how == 2:
        rows[i], rows[j] = rows[j], rows[i]
    elif how == 3:
        rows = rows[: max(i, 1)]
    else:
        rows[j:j] = rows[min(i, j) : max(i, j)][:40]
    texts[file] = "".join(rows)


def _signs(rng: random.Random, texts: dict[str, str]) -> None:
    """Odd signs in odd places."""
    file = rng.choice((*_TOML, *_OTHER))
    text = texts[file]
    for _ in range(rng.randint(1, 4)):
        at = rng.randrange(len(text) + 1)
        text = (
            text[:at]
            + rng.choice(_ODD) * rng.choice((1, 1, 1, 50))
            + text[at + rng.randint(0, 2) :]
        )
    texts[file] = text


def _rows(rng: random.Random, texts: dict[str, str]) -> None:
    """A number of a thrust curve or of an outline becomes another one."""
    file = rng.choice(_OTHER)
    places = list(re.finditer(r"-?[0-9]+(\.[0-9]+)?", texts[file]))
    if not places:
        return
    place = rng.choice(places)
    scale = rng.choice((0.0, -1.0, 1e-6, 0.1, 0.5, 1.5, 10.0, 1e6, 1e300))
    new = rng.choice((f"{float(place[0]) * scale:.9g}", *_NUMBERS[:14]))
    texts[file] = texts[file][: place.start()] + new + texts[file][place.end() :]


def checked(texts: Mapping[str, str], plans: int = 0, flights: int = 20) -> str:
    """What became of a project: "refused", "reads", "answered" or "no answer"; else it raises.

    plans : how many of its plans are flown; 0: it is read only.
    """
    try:
        project = read_project(texts)
    except ProjectErrors as errors:
        assert 1 <= len(errors.faults) <= MAX_FAULTS + 1
        for fault in errors.faults:
            assert fault.file and fault.found and fault.expected and fault.advice, fault
            assert fault.line >= 0 and len(fault.sentence) < 2000, fault
        return "refused"
    state = "reads"
    for table in project.plan_tables[:plans]:
        try:
            case = case_of(project, table.name)
            ledger = ledger_of(case, flights, remedies=False)
        except Refused as refusal:
            assert str(refusal), table.name
            state = "no answer"
            continue
        state = "answered" if state == "reads" else state
        _sound(ledger)
    return state


def _sound(ledger: Any) -> None:
    """No figure of an answer is NaN or endless, and every output can be made of it."""
    for name in ("chance", "low", "high"):
        value = getattr(ledger, name)
        assert value is None or 0.0 <= value <= 1.0, (name, value)
    for row in ledger.rows:
        for name in ("chance", "low", "high"):
            value = getattr(row, name)
            assert value is None or 0.0 <= value <= 1.0, (row.key, name, value)
    json.loads(to_json(ledger_record(ledger)), parse_constant=_no_constant)
    shown = ledger_text(ledger, Terminal(80, False, True, "metric"))
    assert not re.search(r"\b(nan|inf)\b", shown), shown


def _no_constant(word: str) -> None:
    raise AssertionError(f"the answer holds {word}")
