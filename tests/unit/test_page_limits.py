"""Extreme and faulty figures on the page: told at their field, and mended where they are told."""

import signal
import subprocess
import sys
from pathlib import Path

import pytest

from goodflight.project import Fault, SaveRefused, load
from goodflight.project.demo import write_demo
from goodflight.project.mending import fields_of, mended
from page_client import Page

SPAN = "e:rocket.toml:part[fins].span"


@pytest.fixture
def page(tmp_path: Path) -> Page:
    write_demo(tmp_path / "demo")
    return Page(tmp_path / "demo")


def test_a_field_that_is_faulty_on_disk_is_mended_where_it_is_told(page: Page) -> None:
    page.elsewhere('span = "80 mm"', 'span = "1e9 mm"')
    page.elsewhere("1.00 m across flats", "1.00 m ± 60 % across flats")
    sheet = page.get("/ledger")
    assert sheet.status == 422
    form = sheet.form("/mend")
    assert form[SPAN] == "1e9 mm"
    (canopy,) = (key for key in form if key.endswith(".across"))
    assert form[canopy] == "1.00 m ± 60 % across flats"
    before = page.text()

    sheet = page.post("/mend", {**form, SPAN: "85 mm"})  # one of the two
    assert sheet.status == 422
    assert "Nothing was written" in sheet.text
    assert page.text() == before
    form = sheet.form("/mend")
    assert form[SPAN] == "85 mm"  # kept, though it is no longer told as a fault

    sheet = page.post("/mend", {**form, canopy: "1.00 m ± 5 % across flats"}, follow=False)
    assert sheet.status == 303
    wanted = before.replace("1e9 mm", "85 mm").replace("± 60 %", "± 5 %")
    assert page.text() == wanted
    load(page.folder)


def test_an_unknown_key_is_taken_out_and_a_missing_one_added(page: Page) -> None:
    page.elsewhere('span = "80 mm"', 'spin = "80 mm"')
    form = page.get("/ledger").form("/mend")
    spin = "e:rocket.toml:part[fins].spin"
    assert form[spin] == "80 mm"
    sheet = page.post("/mend", {**form, spin: ""})  # now the span is missed
    assert sheet.status == 422
    form = sheet.form("/mend")
    assert (form[spin], form[SPAN]) == ("", "")
    assert page.post("/mend", {**form, SPAN: "80 mm"}, follow=False).status == 303
    assert "spin = " not in page.text()
    load(page.folder)


def test_mending_meets_what_changed_meanwhile(page: Page) -> None:
    page.elsewhere('span = "80 mm"', 'span = "40 m"')
    form = page.get("/ledger").form("/mend")
    page.elsewhere('span = "40 m"', 'span = "50 m"')
    sheet = page.post("/mend", {**form, SPAN: "80 mm"})
    assert sheet.status == 422
    assert 'span = "50 m"' in page.text()
    form = sheet.form("/mend")
    assert form[SPAN] == "80 mm"  # what was typed stands there; once more writes it
    anew = Page(page.folder)  # a server started again knows the form, too
    assert anew.post("/mend", form, follow=False).status == 303
    assert 'span = "80 mm"' in page.text()


def test_a_form_tells_an_extreme_spread_at_its_field(page: Page) -> None:
    form = page.get("/drawing?part=fins").form("/part/fins")
    sheet = page.post("/part/fins", {**form, "span": "1e9 mm"})
    assert sheet.status == 422
    assert "at most 3 m" in sheet.text
    assert page.text() == page.text().replace("1e9", "")
    assert sheet.form("/part/fins")["span"] == "1e9 mm"


def test_a_rocket_that_cannot_be_flown_keeps_its_forms(page: Page) -> None:
    page.elsewhere('mass = "144 g measured"', 'mass = "900 g measured"')  # its scale says 144 g
    sheet = page.get("/drawing?part=nose")
    assert sheet.status == 422
    assert "Nothing can be computed: weighings.toml:" in sheet.text
    form = sheet.form("/part/nose")
    assert form["mass"] == "900 g measured"
    assert page.post("/part/nose", {**form, "mass": "144 g measured"}, follow=False).status == 303
    load(page.folder)


def test_what_no_field_can_mend_needs_an_editor() -> None:
    texts = {"rocket.toml": '[[part]]\nname = "a"\nkind = "added_mass"\n', "a.csv": "x"}

    def place(file: str, key: str) -> bool:
        return bool(fields_of(texts, [Fault(file, 1, key, found="", expected="", advice="")]))

    assert place("rocket.toml", "part[a].mass")
    assert place("rocket.toml", "part[#1].kind")
    assert not place("rocket.toml", "")
    assert not place("rocket.toml", "part")  # the tables themselves
    assert not place("rocket.toml", "part[b].mass")
    assert not place("rocket.toml", "finish.paint.deep")
    assert not place("plans.toml", "plan[x].motor")
    assert not place("a.csv", "time_s")
    with pytest.raises(SaveRefused):
        mended(texts, {"../x.toml:a": "1"})


IGNORES = """
import signal, time
from goodflight.cli.stopping import end_on_interrupt
signal.signal(signal.SIGINT, lambda *_: None)  # as a call that does not come back
end_on_interrupt()
print("ready", flush=True)
while True:
    time.sleep(60)
"""


def test_an_interrupt_ends_what_does_not_hear_it() -> None:
    command = [sys.executable, "-c", IGNORES]
    with subprocess.Popen(command, stdout=subprocess.PIPE) as deaf:
        assert deaf.stdout is not None
        assert deaf.stdout.readline() == b"ready\n"
        deaf.send_signal(signal.SIGINT)
        assert deaf.wait(60) == 130
