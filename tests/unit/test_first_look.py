"""The first look at a ledger: the list, the numbers, the folds, the flight in one line."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace

import pytest

from goodflight.outputs.ledger.course import course_svg
from goodflight.outputs.ledger.first_look import (
    LISTED,
    first_look,
    more_waiting,
    others_words,
    standing,
)
from goodflight.outputs.ledger.text import in_flight_order
from goodflight.studies.results import Entry, Ledger, Row
from sample_results import ledger, row


def many() -> Ledger:
    """Ten rows: two fail, one unknown, five marginal, two stand."""
    rows = [
        row(key="a", phase="pad", state="ok", chance=0.0, margin=4.1, title="A"),
        row(key="b", phase="pad", state="ok", chance=0.0, margin=2.8, title="B"),
        row(key="c", phase="coast", state="fails", chance=0.1),
        row(key="d", phase="code", state="unknown", chance=None, margin=None),
        row(key="e", phase="descent", state="fails", chance=0.5),
        *(row(key=f"w{i}", phase="boost", state="marginal", chance=0.01 * i) for i in range(1, 6)),
    ]
    return replace(ledger(), rows=tuple(rows))


def test_the_worst_stand_first_and_the_unknown_before_what_is_to_watch() -> None:
    seen = first_look(many())
    assert [r.key for r in seen.listed] == ["e", "c", "d", "w5", "w4"]
    assert len(seen.listed) == LISTED
    assert [r.key for r in seen.others] == ["w3", "w2", "w1"]
    assert seen.numbers == {"e": 1, "c": 2, "d": 3, "w5": 4, "w4": 5}
    assert others_words(seen.others) == "and 3 more: 3 marginal"
    assert others_words(()) == ""


def unknown(key: str, advice: str) -> Row:
    return row(key=key, phase="code", state="unknown", chance=None, margin=None, advice=advice)


def test_rows_that_wait_for_one_thing_are_asked_for_once() -> None:
    rows = [unknown("p", "a scale"), *(unknown(f"q{i}", "a code set") for i in range(4))]
    seen = first_look(replace(ledger(), rows=tuple(rows)))
    assert [r.key for r in seen.listed] == ["q0", "p"]  # what most rows wait for stands first
    assert more_waiting(seen, seen.listed[0]) == "3 more rows wait for this"
    assert more_waiting(seen, seen.listed[1]) == ""
    split = standing(rows)
    assert [r.key for r in split.open] == ["p"]
    (found,) = split.waiting
    assert found.words == "4 rows are not known; the same settles them: a code set"
    assert [r.key for r in found.rows] == ["q0", "q1", "q2", "q3"]


def box(key: str) -> Entry:
    return Entry(key, key, "mass", "motors/m.toml", key, "read it", "", None)


def test_rows_that_wait_for_more_than_one_thing_ask_for_all_of_it_at_once() -> None:
    """Powder first of all for three; the boxes are those of any of them, each once."""
    rows = [
        replace(unknown(f"r{i}", f"a powder; also needed: {more}"), asks=(box("powder"), box(more)))
        for i, more in enumerate(("anchor", "bulkhead", "anchor"))
    ]
    (found,) = standing(rows).waiting
    assert found.words == "3 rows are not known; first of all: a powder" and found.lead is not None
    assert [each.key for each in found.lead.asks] == ["powder", "anchor", "bulkhead"]


def test_many_that_wait_for_different_things_are_one_line_and_few_are_not() -> None:
    rows = [unknown("a", "one"), unknown("b", "two"), unknown("c", "three")]
    (found,) = standing(rows).waiting
    assert found.words == "3 rows are not known, each with its box" and found.lead is None
    assert [r.key for r in standing(rows[:2]).open] == ["a", "b"]


def test_rows_that_stand_are_said_in_one_line_with_the_nearest() -> None:
    rows = [r for r in many().rows if r.phase == "pad"]
    split = standing([*rows, row(key="x", state="unknown", chance=None)])
    assert [r.key for r in split.open] == ["x"] and [r.key for r in split.stand] == ["a", "b"]
    assert split.words == "2 ok; closest to failing: b"
    assert standing(rows[:1]).words == "1 ok; closest to failing: a"
    assert standing([]).words == ""
    far = [replace(r, margin=None) for r in rows]
    assert standing(far).words == "2 ok"


@pytest.mark.parametrize("narrow", [False, True])
def test_the_flight_in_one_line_has_a_named_mark_for_every_row(narrow: bool) -> None:
    found = many()
    rows = in_flight_order(found)
    numbers = first_look(found).numbers
    drawing = ET.fromstring(course_svg(rows, numbers, narrow))
    links = drawing.findall("a")
    assert [a.get("href") for a in links] == [f"#row-{r.key}" for r in rows]
    names = [a.get("aria-label") or "" for a in links]
    assert all(names) and any(n.endswith(": unknown, not known") for n in names)
    written = {a.get("href"): a.findtext("text") for a in links if a.findtext("text")}
    assert written == {f"#row-{key}": str(n) for key, n in numbers.items()}
    width, height = (float(v) for v in (drawing.get("viewBox") or "").split()[2:])
    for a in links:
        use = a.find("use")
        assert use is not None and use.get("href") == "#mark-" + (a.get("class") or "")
        x, y, size = (float(use.get(k) or "nan") for k in ("x", "y", "width"))
        assert x >= 0.0 and x + size <= width and y >= 0.0 and y + size <= height


def apex(rows: list[Row]) -> dict[str, float]:
    """Middle height of the marks by phase; up is smaller."""
    text = course_svg(rows, {})
    marks = re.findall(r'id="cw-(\w+)".*?cy="([\d.]+)"', text)
    phase = {r.key: r.phase for r in rows}
    heights: dict[str, list[float]] = {}
    for key, y in marks:
        heights.setdefault(phase[key], []).append(float(y))
    return {p: sum(ys) / len(ys) for p, ys in heights.items()}


def test_the_line_rises_and_comes_down_like_the_flight() -> None:
    phases = ("pad", "boost", "coast", "deployment", "descent", "code", "workmanship")
    rows = [row(key=f"{p}{i}", phase=p) for p in phases for i in range(4)]
    found = apex(rows)
    assert found["pad"] == found["code"] == found["workmanship"]
    assert found["pad"] > found["boost"] > found["coast"]
    assert found["deployment"] < found["descent"] < found["code"]


@pytest.mark.parametrize("phases", [("code",), ("boost",), ("descent", "code")])
def test_a_ledger_of_few_rows_is_drawn_too(phases: tuple[str, ...]) -> None:
    rows = [row(key=p, phase=p) for p in phases]
    for narrow in (False, True):
        assert "nan" not in course_svg(rows, {}, narrow)
        ET.fromstring(course_svg(rows, {}, narrow))
