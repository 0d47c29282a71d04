"""The calendar as files and as a page; iCalendar is read strictly by RFC 5545, and by vobject."""

import re
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pypdfium2
import pytest
import vobject

from calendar_case import project, project_texts
from goodflight.outputs.calendar.ics import calendar_ics
from goodflight.outputs.calendar.sheet import calendar_pdf
from goodflight.outputs.calendar.words import LATE, marks
from goodflight.studies.calendar.results import CalendarStudy
from goodflight.studies.questions.calendar import calendar
from page_client import Page

NOW = datetime(2026, 12, 27, 18, 0, 0, tzinfo=UTC)
NAME = r"[A-Z0-9-]+"
LINE = re.compile(rf"({NAME})((?:;{NAME}=[^\";:,]+)*):(.*)")
Properties = dict[str, tuple[str, str]]  # name -> parameters, value


@pytest.fixture(scope="module")
def study() -> CalendarStudy:
    """A shed in winter."""
    return calendar(project(), builds=50)


def read(text: bytes) -> tuple[Properties, list[Properties]]:
    """Calendar and events, refusing what RFC 5545 does not allow (sections 3.1 and 3.6)."""
    assert text.endswith(b"\r\n") and not re.search(rb"(?<!\r)\n|\r(?!\n)", text)
    lines = text.split(b"\r\n")[:-1]
    assert all(len(line) <= 75 for line in lines), "75 octets without the break, 3.1"
    whole = re.sub("\r\n[ \t]", "", text.decode("utf-8")).split("\r\n")[:-1]
    head: Properties = {}
    events: list[Properties] = []
    inside: list[str] = []
    for line in whole:
        found = LINE.fullmatch(line)
        assert found, line
        name, parameters, value = found.groups()
        if name == "BEGIN":
            inside.append(value)
            assert inside in (["VCALENDAR"], ["VCALENDAR", "VEVENT"])
            if value == "VEVENT":
                events.append({})
        elif name == "END":
            assert inside.pop() == value
        else:
            where = events[-1] if inside[-1] == "VEVENT" else head
            assert name not in where, f"{name} once"
            where[name] = parameters, value
    assert not inside
    return head, events


def words(value: str) -> str:
    """Text as meant, 3.3.11."""
    assert not re.search(r"(?<!\\)(?:\\\\)*[;,]", value), "a bare ; or , in a text"
    return re.sub(r"\\([\\;,nN])", lambda m: "\n" if m[1] in "nN" else m[1], value)


def test_icalendar_is_read_back_by_a_strict_reader(study: CalendarStudy) -> None:
    head, events = read(calendar_ics(study, NOW))
    assert head["VERSION"] == ("", "2.0") and head["PRODID"][1]
    assert len({event["UID"][1] for event in events}) == len(events) == len(study.steps) + 1
    assert {event["DTSTAMP"][1] for event in events} == {"20261227T180000Z"}
    for step, event in zip(study.steps, events):
        begins, ends = (
            datetime.strptime(event[key][1], "%Y%m%dT%H%M%S") for key in ("DTSTART", "DTEND")
        )
        assert event["DTSTART"][0] == "", "local time, no zone, 3.3.5"
        assert f"{begins:%Y-%m-%d %H:%M}" == f"{step.day} {step.begins}"
        assert ends - begins == timedelta(minutes=round(step.minutes))
        assert words(event["SUMMARY"][1]) == f"Fieldfare: {step.title}"
        assert ("NO RETURN" in words(event["DESCRIPTION"][1])) == step.no_return
    launch = events[-1]
    assert launch["DTSTART"] == (";VALUE=DATE", "20270206")
    assert launch["DTEND"] == (";VALUE=DATE", f"{date(2027, 2, 7):%Y%m%d}")


def test_another_library_reads_the_same_steps(study: CalendarStudy) -> None:
    """vobject, which shares no code with what writes: times, texts and whole days as planned."""
    made = calendar_ics(study, NOW)
    events = vobject.readOne(made.decode("utf-8"), validate=True).vevent_list
    assert len(events) == len(study.steps) + 1
    for step, event in zip(study.steps, events):
        begins = event.dtstart.value
        assert begins == datetime.fromisoformat(f"{step.day} {step.begins}")
        assert event.dtend.value - begins == timedelta(minutes=round(step.minutes))
        assert event.summary.value == f"Fieldfare: {step.title}"
        told = event.description.value.splitlines()
        assert told[-2:] == [marks(step), LATE] if step.late else told[-1] == marks(step)
        assert event.location.value == step.place
    assert events[-1].dtstart.value == date.fromisoformat(study.launch)
    with pytest.raises(vobject.base.ParseError):
        vobject.readOne(made.replace(b"END:VEVENT", b"END:VTODO", 1).decode("utf-8"))


def test_an_event_keeps_its_identity_when_the_plan_is_made_anew(study: CalendarStudy) -> None:
    later = calendar(project(), start="2027-01-04", builds=50)
    first, second = (read(calendar_ics(each, NOW))[1] for each in (study, later))
    assert {e["UID"][1] for e in first} == {e["UID"][1] for e in second}
    assert [e["DTSTART"][1] for e in first] != [e["DTSTART"][1] for e in second]


def test_the_strict_reader_refuses_what_is_wrong(study: CalendarStudy) -> None:
    good = calendar_ics(study, NOW)
    for wrong in (good.replace(b"\r\n", b"\n"), good.replace(b"\r\n ", b""), good[:-20]):
        with pytest.raises(AssertionError):
            read(wrong)


def test_sheets_hold_every_step(study: CalendarStudy) -> None:
    pages = pypdfium2.PdfDocument(calendar_pdf(study))
    text = "".join("".join(page.get_textpage().get_text_range().split()) for page in pages)
    assert all("".join(step.title.split()) in text for step in study.steps)
    assert "Noreturn." in text and 1 <= len(pages) <= 3


def test_the_page_shows_the_plan_and_gives_its_files(tmp_path: Path) -> None:
    for name, text in project_texts().items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text, encoding="utf-8")
    page = Page(tmp_path)
    sheet = page.get("/calendar")
    assert sheet.status == 200 and "What sets the day" in sheet.text
    assert "kitchen, 20 °C" in sheet.text
    assert 'class="shuts"' in sheet.raw and "warm the shed to 18 °C" in sheet.text
    dates = page.client.get("/calendar/build.ics")
    assert dates.headers["content-type"].startswith("text/calendar") and read(dates.content)
    printed = page.client.get("/calendar/sheet.pdf")
    assert printed.status_code == 200 and printed.content[:5] == b"%PDF-"
    wrong = page.get("/calendar?start=2027-13-01")
    assert wrong.status == 422 and "There is no plan yet" in wrong.text
