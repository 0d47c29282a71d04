"""A log brought in on the debrief page: shown, corrected, kept byte for byte, left out again.

The logs are made up in closed form (made_logs); what is no flight is a row of numbers.
"""

import re
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from goodflight import load
from goodflight.page import debrief_page
from goodflight.page.body import LARGEST_BODY
from goodflight.studies.debriefing.carry import Carried
from goodflight.studies.questions.debrief import DebriefStudy, last_debrief
from made_logs import APOGEE_M, APOGEE_S, made, table
from shared_answers import shared_app

HERE = "http://127.0.0.1:8311"
M = made(0.1)
HPA = M["pressure"] / 100.0
TWO = table({"time_s": M["time"], "one": HPA, "two": HPA + 3.0}, delimiter=";").encode()
LATIN = "# höhe\n".encode("cp1252") + TWO  # no UTF-8


@pytest.fixture
def page(folder: Path) -> TestClient:
    return TestClient(shared_app(folder, 8311), base_url=HERE, headers={"origin": HERE})


def drawn_from(page: TestClient) -> str:
    """The hash of the files as a form of any sheet carries it."""
    found = re.search(r'name="hash" value="(\w+)"', page.get("/versions").text)
    assert found is not None
    return found[1]


def sent(page: TestClient, raw: bytes | None, name: str = "LOG7.CSV", **data: str) -> str:
    files = {"file": (name, raw)} if raw is not None else None
    data["hash"] = drawn_from(page)
    return str(page.post("/debrief/log", data=data, files=files).text)


def kept(page: TestClient, key: str, **data: str) -> None:
    """Keep a held log with the flight first, without a look at what it says."""
    data |= {"log": key, "act": "keep", "flight": "first", "hash": drawn_from(page)}
    answer = page.post("/debrief/log", data=data, follow_redirects=False)
    assert answer.status_code == 303, answer.text


def held(text: str) -> str:
    found = re.search(r'name="log" value="(\w+)"', text)
    assert found is not None
    return found[1]


def test_a_log_is_shown_before_it_is_kept_and_kept_as_it_is(page: TestClient, folder: Path) -> None:
    text = sent(page, LATIN, flight="first")
    assert "columns parted by semicolons" in text and "10 a second" in text
    assert "pressures of a barometer in hPa from column 2 one" in text
    assert f"apogee {APOGEE_S:.1f}" in text  # beside its upright in the picture
    assert not (folder / "flights").exists()
    text = sent(page, None, log=held(text), act="keep", flight="first")
    assert (folder / "flights/first/LOG7.CSV").read_bytes() == LATIN
    assert load(folder).notes["first"].log == ["LOG7.CSV"]
    assert "predicted" in text and "Prediction and flight" in text
    shown = re.search(r"apogee in the standard atmosphere, as an altimeter shows it: (\d+)", text)
    assert shown is not None and float(shown[1]) == pytest.approx(APOGEE_M, rel=0.01)


def test_what_is_carried_over_and_printed_is_what_the_log_said(
    page: TestClient, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    kept(page, held(sent(page, LATIN, flight="first")))
    asked: list[DebriefStudy] = []

    def carry_over(_project: object, study: DebriefStudy) -> Carried:
        asked.append(study)
        return Carried({}, ())

    monkeypatch.setattr(debrief_page, "carry_over", carry_over)
    data = {"flight": "first", "hash": drawn_from(page)}
    page.post("/debrief/carry", data=data, follow_redirects=False)
    for study in (*asked, last_debrief(load(folder))):
        assert [each.file for each in study.logs] == ["LOG7.CSV"]
    assert len(asked) == 1
    (folder / "flights/first/LOG7.CSV").write_bytes(b"no table\n")
    assert "Nothing was written" in page.post("/debrief/carry", data=data).text


def test_a_wrong_column_is_corrected_and_holds_for_the_next_log(
    page: TestClient, folder: Path
) -> None:
    key = held(sent(page, TWO))
    text = sent(page, None, log=key, act="look", column2="ignore", column3="pressure hPa")
    assert "in hPa from column 3 two" in text
    kept(page, key, column2="ignore", column3="pressure hPa")
    assert load(folder).notes["first"].logger[0].columns == ["2=ignore", "3=pressure hPa"]
    other = TWO.replace(b"0.1000;", b"0.1001;")
    text = sent(page, other)
    assert "in hPa from column 3 two" in text
    kept(page, held(text))
    assert load(folder).notes["first"].log == ["LOG7.CSV", "LOG7-2.CSV"]
    kept(page, held(sent(page, TWO)))  # the very same file is not put twice
    assert sorted(p.name for p in (folder / "flights/first").iterdir()) == [
        "LOG7-2.CSV",
        "LOG7.CSV",
        "notes.toml",
    ]


def test_a_log_of_two_flights_asks_which_and_remembers_it(page: TestClient, folder: Path) -> None:
    both = TWO + TWO.split(b"\n", 1)[1]
    text = sent(page, both, flight="first")
    assert "This file holds 2 flights" in text and 'name="act" value="keep"' not in text
    text = sent(page, None, log=held(text), act="look", flight="first", recording="2")
    assert "chosen: 2 from line" in text and 'value="2" checked' in text
    kept(page, held(text), recording="2")
    (noted,) = load(folder).notes["first"].recording
    assert (noted.log, noted.number) == ("LOG7.CSV", 2)
    text = page.get("/debrief?flight=first").text
    assert "chosen: 2 from line" not in text and "The log LOG7.CSV" in text
    again = page.get("/debrief/log?flight=first&name=LOG7.CSV").text
    assert 'value="2" checked' in again


def test_what_is_no_flight_is_refused_in_words_and_nothing_is_written(
    page: TestClient, folder: Path
) -> None:
    flat = table({"time_s": M["time"], "height_m": 0.0 * M["time"]}).encode()
    text = sent(page, flat, act="keep", flight="first")
    assert "no rise by 20 m or more" in text and "nothing is kept" in text
    assert "keep it with the flight" not in text and "--column" not in text
    assert "no table of numbers" in sent(page, b"one two\n" * 60)
    assert "no file came" in sent(page, None)
    assert "holds the log no more" in sent(page, None, log="0" * 32, act="keep", flight="first")
    assert not (folder / "flights").exists()


def test_names_that_are_no_names_are_made_some(page: TestClient, folder: Path) -> None:
    key = held(sent(page, TWO, name="C:\\logs\\a<b>.tsv"))
    assert "a name of a folder" in sent(page, None, log=key, act="keep", flight="../x")
    kept(page, key)
    assert (folder / "flights/first/a-b-.tsv.txt").read_bytes() == TWO
    assert not (folder.parent / "x").exists()


def test_a_log_is_left_out_and_taken_in_again_by_undo(page: TestClient, folder: Path) -> None:
    kept(page, held(sent(page, LATIN)))
    asked = {"hash": drawn_from(page), "flight": "first", "name": "LOG7.CSV"}
    text = page.post("/debrief/log/out", data=asked).text
    assert load(folder).notes["first"].log == []
    assert "The log LOG7.CSV" not in text and (folder / "flights/first/LOG7.CSV").exists()
    undone = {"hash": drawn_from(page), "here": "/debrief"}
    page.post("/undo", data=undone, follow_redirects=False)
    text = page.get("/debrief?flight=first").text
    assert "The log LOG7.CSV" in text
    assert "columns-read" in page.get("/debrief/log?flight=first&name=LOG7.CSV").text


def test_a_log_may_be_larger_than_a_form(page: TestClient) -> None:
    assert "no table of numbers" in sent(page, b"one two\n" * (LARGEST_BODY // 8 + 1))
    answer = page.post("/debrief/note", content=b"x" * (LARGEST_BODY + 1))
    assert answer.status_code == 413
