"""JSON and CSV: field names with units, plain numbers, null for what is not known."""

import json
from dataclasses import dataclass
from typing import Annotated

import numpy as np

import sample_results as sample
from goodflight.cli.commands import questions
from goodflight.outputs import json_
from goodflight.outputs.drawing.json_ import layout_record
from goodflight.outputs.flight.history import history_csv
from goodflight.outputs.flight.json_ import delay_record, flight_record
from goodflight.outputs.ledger.json_ import ledger_record
from goodflight.outputs.record import record, sections
from goodflight.quantity.said import Said, said

RECORDS = {
    "ledger": ledger_record(sample.ledger()),
    "fly": flight_record(sample.flight()),
    "delay": delay_record(sample.delay()),
    "draw": layout_record(sample.layout()),
}


def test_every_record_is_valid_json_without_nan() -> None:
    for each in RECORDS.values():
        text = json_.to_json(each)
        assert json.loads(text)
        assert "NaN" not in text and "Infinity" not in text


def test_numbers_that_are_not_finite_become_null() -> None:
    text = json_.to_json({"a": float("nan"), "b": [np.float64(np.inf)], "c": np.int64(3)})
    assert json.loads(text) == {"a": None, "b": [None], "c": 3}


def test_a_ledger_row_has_the_fields_others_build_on() -> None:
    row = RECORDS["ledger"]["rows"][0]
    wanted = {"key", "phase", "chance", "low", "high", "margin", "driver", "remedies", "state"}
    assert wanted <= set(row)
    assert row["driver"] == "wind"
    assert {row["state"] for row in RECORDS["ledger"]["rows"]} == {
        "ok",
        "marginal",
        "fails",
        "unknown",
    }


def test_an_unknown_row_has_no_chance() -> None:
    row = next(row for row in RECORDS["ledger"]["rows"] if row["state"] == "unknown")
    assert row["chance"] is None and row["demand_5_50_95"] is None
    assert row["spoken"] == "not known"


def test_every_field_is_documented_and_no_documented_field_is_missing() -> None:
    fields = {name: told for each in questions() for name, told in each.sections().items()}
    for command, each in RECORDS.items():
        listed = fields[command].keys() - {"file"}  # put in by the command
        found = set(each) - (set(sample.flight().figures) if command == "fly" else set())
        assert found == listed, command
    for name, part in (
        ("row", RECORDS["ledger"]["rows"][0]),
        ("remedy", RECORDS["ledger"]["rows"][0]["remedies"][0]),
        ("input", RECORDS["ledger"]["rows"][0]["inputs"][0]),
        ("delay row", RECORDS["delay"]["rows"][0]),
        ("piece", RECORDS["draw"]["parts"][0]),
    ):
        assert set(part) == set(fields[name]), name


def test_flight_figures_stand_at_the_top_level_in_si() -> None:
    assert RECORDS["fly"]["apogee_m"] == 577.0
    assert RECORDS["fly"]["rail_exit_m_s"] == 19.9
    assert RECORDS["fly"]["main_opening_m_s"] is None


def test_history_as_csv() -> None:
    lines = history_csv(sample.flight()).splitlines()
    assert lines[0] == "time_s,height_m,speed_m_s"
    assert lines[2] == "2,4,4"
    assert len(lines) == 7


@dataclass(frozen=True)
class Told:
    """A record with sentences."""

    one: Annotated[Said, "a sentence"]
    few: Annotated[tuple[Said, ...], "sentences"]
    none: Annotated[Said | None, "no sentence"] = None


def test_what_a_sentence_names_stands_beside_it_as_numbers_in_si() -> None:
    gust, bare = said("at most {x}", x=(8.0, "speed"), unnamed=(2.0, "length")), said("not known")
    assert record(Told(gust, (bare, gust))) == {
        "one": "at most 8 m/s",
        "few": ["not known", "at most 8 m/s"],
        "none": None,
        "in_figures": {
            "one": {"x": {"value": 8.0, "dimension": "speed"}},
            "few": [{}, {"x": {"value": 8.0, "dimension": "speed"}}],
        },
    }
    assert "in_figures" in sections(Told, "told")["told"]
    assert record(Told(bare, ()))["in_figures"] == {}
