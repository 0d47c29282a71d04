"""The builder's files on the page: met by other changes, broken, brought back; plans; motors."""

import re
from pathlib import Path

import pytest

from goodflight.project import load
from goodflight.project.saving import versions
from page_client import Page


@pytest.fixture
def page(folder: Path) -> Page:
    return Page(folder)


# --- a form that met other changes --------------------------------------------------------------


def test_a_form_saved_after_another_change_is_merged(page: Page) -> None:
    form = page.get("/drawing?part=nose").form("/part/nose")
    form.update(mass="150 g measured", wall="2.2 mm")
    theirs = page.elsewhere('"144 g measured"', '"147 g measured"').replace(
        'balance = "150 mm"', 'balance = "152 mm"'
    )
    page.elsewhere('balance = "150 mm"', 'balance = "152 mm"')
    met = page.post("/part/nose", form)
    assert met.status == 409
    assert page.text() == theirs, "nothing may be written yet"
    again = met.form("/part/nose")
    assert again["mass"] == "150 g measured"  # both changed it: hers is chosen beforehand
    assert again["wall"] == "2.2 mm"  # only she did
    assert again["balance"] == "152 mm"  # only the file did
    for said in ("144 g measured", "147 g measured", "150 g measured"):
        assert f'type="radio" name="mass" value="{said}"' in met.text
    assert met.text.count("<fieldset") == 1
    done = page.post("/part/nose", again)
    assert done.status == 200
    nose = page.text().split("[[part]]")[1]
    assert 'mass = "150 g measured"' in nose and 'wall = "2.2 mm"' in nose
    assert 'balance = "152 mm"' in nose


def test_the_other_side_can_be_chosen(page: Page) -> None:
    form = page.get("/drawing?part=nose").form("/part/nose")
    theirs = page.elsewhere('"144 g measured"', '"147 g measured"')
    met = page.post("/part/nose", {**form, "mass": "150 g measured"})
    page.post("/part/nose", {**met.form("/part/nose"), "mass": "147 g measured"})
    assert page.text() == theirs


def test_a_merged_form_that_meets_a_third_change_is_merged_again(page: Page) -> None:
    form = page.get("/drawing?part=nose").form("/part/nose")
    page.elsewhere('"144 g measured"', '"147 g measured"')
    met = page.post("/part/nose", {**form, "mass": "150 g measured"})
    theirs = page.elsewhere('"147 g measured"', '"148 g measured"')
    again = page.post("/part/nose", met.form("/part/nose"))
    assert again.status == 409 and page.text() == theirs
    assert 'name="mass" value="148 g measured"' in again.text


def test_after_a_restart_every_entry_that_differs_is_asked(page: Page) -> None:
    form = page.get("/drawing?part=nose").form("/part/nose")
    page.elsewhere('"144 g measured"', '"147 g measured"')
    anew = Page(page.folder)
    met = anew.post("/part/nose", {**form, "wall": "2.2 mm"})
    assert met.status == 409 and "no longer knows" in met.text
    assert met.text.count("<fieldset") == 2  # mass, which she left alone, and wall
    assert "when you opened it</span>" not in met.text


def test_a_part_renamed_elsewhere_is_known_again(page: Page) -> None:
    form = page.get("/drawing?part=nose").form("/part/nose")
    page.elsewhere('name = "nose"', 'name = "tip"')
    met = page.post("/part/nose", {**form, "mass": "150 g measured"})
    assert met.status == 409 and "nose is called tip in the file now" in met.text
    done = page.post("/part/tip", met.form("/part/tip"))
    assert done.status == 200
    assert 'name = "tip"' in page.text() and "150 g measured" in page.text()


def test_a_part_taken_out_elsewhere_can_be_added_again(page: Page) -> None:
    form = page.get("/drawing?part=small").form("/part/small")
    block = re.search(r'\[\[part\]\]\nkind = "canopy"\nname = "small".*?\n\n', page.text(), re.S)
    assert block
    page.elsewhere(block[0], "")
    met = page.post("/part/small", {**form, "note": "dried"})
    assert met.status == 409 and "small is no longer in the file" in met.text
    assert "small" not in page.text()
    done = page.post("/part", met.form("/part?"))
    assert done.status == 200
    assert 'name = "small"' in page.text() and 'note = "dried"' in page.text()


def test_a_part_added_after_another_change_keeps_what_was_typed(page: Page) -> None:
    form = page.get("/drawing?add=added_mass").form("/part?")
    form.update(name="shot", mass="10 g", station="50 mm", after="nose")
    theirs = page.elsewhere('"144 g measured"', '"147 g measured"')
    met = page.post("/part", form)
    assert met.status == 409 and page.text() == theirs
    again = met.form("/part?")
    assert {k: again[k] for k in ("name", "mass", "after")} == {
        "name": "shot",
        "mass": "10 g",
        "after": "nose",
    }
    page.post("/part", again)
    assert [p.name for p in load(page.folder).parts][:2] == ["nose", "shot"]


@pytest.mark.parametrize("act", ["remove", "move"])
def test_a_part_is_moved_or_taken_out_only_after_a_look_at_what_changed(
    page: Page, act: str
) -> None:
    path = f"/part/small/{act}"
    hash_now = page.get("/drawing").form(path)["hash"]
    theirs = page.elsewhere('"144 g measured"', '"147 g measured"')
    met = page.post(path, {"hash": hash_now, "way": "up"})
    assert met.status == 409 and page.text() == theirs
    assert "rocket.toml:part[nose].mass" in met.text and "147 g measured" in met.text
    assert page.post(path, met.form(path)).status == 200
    assert page.text() != theirs


def test_a_kept_what_if_shows_what_changed_and_is_kept_again(page: Page) -> None:
    path = "/keep?plan=midday&wind=5.5"
    drawn = page.get("/ledger?plan=midday&wind=5.5").form("/keep")["hash"]
    old = page.text("plans.toml")
    theirs = page.elsewhere('"3.5 m/s ± 0.3 m/s measured"', '"4 m/s ± 0.4 m/s"', "plans.toml")
    met = page.post(path, {"hash": drawn, "page": "ledger"})
    assert met.status == 409 and page.text("plans.toml") == theirs
    assert "plans.toml:plan[midday].day.wind" in met.text
    for said in ("3.5 m/s ± 0.3 m/s measured", "4 m/s ± 0.4 m/s", "5.5 m/s"):
        assert said in met.text
    done = page.post(path, met.form("/keep"))
    assert done.status == 200 and 'wind = "5.5 m/s' in page.text("plans.toml")
    page.post("/undo", done.form("/undo"))
    assert page.text("plans.toml") == theirs != old


def test_a_what_if_on_a_plan_that_is_gone_is_not_written_into_another(page: Page) -> None:
    drawn = page.get("/ledger?plan=midday&wind=5.5").form("/keep")["hash"]
    theirs = page.elsewhere('name = "midday"', 'name = "noon"', "plans.toml")
    met = page.post("/keep?plan=midday&wind=5.5", {"hash": drawn})
    assert met.status == 409 and "midday is no longer in plans.toml" in met.text
    assert 'action="/keep' not in met.text and page.text("plans.toml") == theirs


def test_a_kept_remedy_shows_what_changed_and_is_kept_again(page: Page) -> None:
    drawn = page.get("/ledger?plan=midday").form("/undo")["hash"]
    theirs = page.elsewhere('"144 g measured"', '"147 g measured"')
    room = page.client.app.app.state.room  # type: ignore[attr-defined]
    ledger = room.answers.full("midday", {})
    shown = [r for row in ledger.rows for r in row.remedies if r.change]
    remedies = [r for r in shown if all(path.startswith("plans.toml:") for path, _ in r.change)]
    assert remedies, [r.key for r in shown]
    met = page.post("/remedy?plan=midday", {"hash": drawn, "remedy": remedies[0].key})
    assert met.status == 409 and page.text() == theirs
    assert "rocket.toml:part[nose].mass" in met.text
    path, text = remedies[0].change[0]
    assert path in met.text and f">{text}</td>" in met.text
    done = page.post("/remedy?plan=midday", met.form("/remedy"))
    assert done.status == 200 and page.text() == theirs
    assert f'{path.rpartition(".")[2]} = "{text}' in page.text("plans.toml")
    gone = page.post("/remedy?plan=midday", {"hash": drawn, "remedy": "moon"})
    assert gone.status == 409 and 'action="/remedy' not in gone.text


def test_undo_after_another_edit_names_what_differs(page: Page) -> None:
    form = page.get("/drawing?part=nose").form("/part/nose")
    done = page.post("/part/nose", {**form, "mass": "150 g measured"})
    theirs = page.elsewhere('balance = "150 mm"', 'balance = "152 mm"')
    met = page.post("/undo", done.form("/undo"))
    assert met.status == 409 and page.text() == theirs
    assert "rocket.toml:part[nose].balance" in met.text and "152 mm" in met.text
    assert 'action="/undo"><input type="hidden" name="hash" value="' in met.text  # of the tabs
    assert "apply it to the files as they are now" not in met.text


def test_undo_after_an_edit_of_another_file_can_be_done_at_once(page: Page) -> None:
    before = page.text()
    form = page.get("/drawing?part=nose").form("/part/nose")
    done = page.post("/part/nose", {**form, "mass": "150 g measured"})
    page.elsewhere('"3.5 m/s ± 0.3 m/s measured"', '"4 m/s"', "plans.toml")
    met = page.post("/undo", done.form("/undo"))
    assert met.status == 409 and "apply it to the files as they are now" in met.text
    page.post("/undo", met.form("/undo"))
    assert page.text() == before and '"4 m/s"' in page.text("plans.toml")


# --- a broken project ---------------------------------------------------------------------------


def test_a_broken_file_shows_its_lines_and_comes_back(page: Page) -> None:
    page.get("/ledger")
    good = page.text()
    bad = page.elsewhere('"144 g measured"', '"144 parsec"')
    sheet = page.get("/ledger")
    assert sheet.status == 422
    line = bad.splitlines().index('mass = "144 parsec"       # planned 150 g') + 1
    assert f'<span class="no">{line}</span>' in sheet.text
    assert 'mass = <mark>"144 parsec"</mark>' in sheet.text
    assert 'material = "pla_printed"' in sheet.text and 'balance = "150 mm"' in sheet.text
    assert "144 parsec → 144 g measured" in re.sub(r"<[^>]*>", "", sheet.text)
    done = page.post("/versions", sheet.form("/versions"))
    assert done.status == 200 and page.text() == good
    kept = [v.path.read_text("utf-8") for v in versions(page.folder, "rocket.toml")]
    assert bad in kept, "the broken text is kept as well"


def test_versions_that_would_not_mend_are_not_offered(page: Page) -> None:
    page.get("/ledger")
    page.elsewhere('"144 g measured"', '"144 parsec"')
    page.post("/versions", page.get("/ledger").form("/versions"))  # the broken text is version 2
    page.elsewhere('"144 g measured"', '"146 parsec"')
    sheet = page.get("/ledger")
    kept = [v.path.read_text("utf-8") for v in versions(page.folder, "rocket.toml")]
    assert [text.count("144 parsec") for text in kept] == [0, 1, 0]
    assert sheet.text.count(">bring back<") == 1  # the first and the third are the same text
    assert "146 parsec → 144 parsec" not in re.sub(r"<[^>]*>", "", sheet.text)


def test_two_broken_files_say_what_is_left(page: Page) -> None:
    page.get("/ledger")
    page.elsewhere('"144 g measured"', '"144 parsec"')
    page.elsewhere('site = "larkrise"', 'site = "nowhere"', "plans.toml")
    sheet = page.get("/ledger")
    assert "in other files" in sheet.text and sheet.text.count(">bring back<") == 2


def test_a_form_sent_to_a_broken_project_is_kept(page: Page) -> None:
    form = page.get("/drawing?part=nose").form("/part/nose")
    good = page.text()
    page.elsewhere('"68 g label"', '"68 parsec"')
    met = page.post("/part/nose", {**form, "wall": "2.2 mm"})
    assert met.status == 422 and "What you sent was not written" in met.text
    waiting = met.form("/part/nose")
    assert waiting["wall"] == "2.2 mm"
    page.elsewhere('"68 parsec"', '"68 g label"')
    assert page.post("/part/nose", waiting).status == 200
    assert page.text() == good.replace('wall = "2.0 mm"', 'wall = "2.2 mm"', 1)


def test_a_version_is_brought_back_from_its_list_and_undone(page: Page) -> None:
    before = page.text()
    form = page.get("/drawing?part=nose").form("/part/nose")
    page.post("/part/nose", {**form, "mass": "150 g measured"})
    after = page.text()
    sheet = page.get("/versions")
    assert "150 g measured → 144 g measured" in re.sub(r"<[^>]*>", "", sheet.text)
    done = page.post("/versions", sheet.form("/versions"))
    assert done.status == 200 and page.text() == before
    page.post("/undo", done.form("/undo"))
    assert page.text() == after


def test_a_version_that_does_not_exist_is_refused(page: Page) -> None:
    hash_now = page.get("/drawing").form("/undo")["hash"]
    for file, number in (("rocket.toml", "7"), ("../rocket.toml", "1"), ("/etc/passwd", "1")):
        met = page.post("/versions", {"hash": hash_now, "file": file, "version": number})
        assert met.status == 409 and "has no version" in met.text
    met = page.post("/versions", {"hash": hash_now, "file": "rocket.toml", "version": "last"})
    assert met.status == 422


# --- plans --------------------------------------------------------------------------------------


def test_a_plan_is_changed_and_undone(page: Page) -> None:
    before = page.text("plans.toml")
    form = page.get("/drawing?plan=midday").form("/plan?plan=midday")
    form.update({"delay_out": "3 s", "canopy": "small", "day.wind": "4 m/s", "tilt": "5 deg"})
    done = page.post("/plan?plan=midday", form)
    assert done.status == 200
    found = load(page.folder).plan("midday")
    assert (found.delay_out_s, found.canopy, found.day.wind_m_s) == (3.0, "small", 4.0)
    other = load(page.folder).plan("breezy")
    assert (other.delay_out_s, other.canopy) == (2.0, "large")
    page.post("/undo", done.form("/undo"))
    assert page.text("plans.toml") == before


def test_faults_of_a_plan_stand_at_their_fields(page: Page) -> None:
    before = page.text("plans.toml")
    form = page.get("/drawing?plan=midday").form("/plan?plan=midday")
    met = page.post("/plan?plan=midday", {**form, "delay_out": "9 s", "name": "breezy"})
    assert met.status == 422 and "there is a plan breezy already" in met.text
    met = page.post("/plan?plan=midday", {**form, "delay_out": "9 s", "day.cloud_cover": "3"})
    assert met.status == 422 and page.text("plans.toml") == before
    assert 'id="p-day-cloud_cover" name="day.cloud_cover" value="3"' in met.text
    wrong = re.findall(r'id="p-([\w-]+)"[^>]*aria-invalid', met.text)
    assert wrong == ["day-cloud_cover"]
    met = page.post("/plan?plan=midday", {**form, "delay_out": "9 s"})
    assert re.findall(r'id="p-([\w-]+)"[^>]*aria-invalid', met.text) == ["delay_out"]


def test_a_plan_that_met_another_change_is_merged(page: Page) -> None:
    form = page.get("/drawing?plan=midday").form("/plan?plan=midday")
    page.elsewhere('"3.5 m/s ± 0.3 m/s measured"', '"4 m/s ± 0.4 m/s"', "plans.toml")
    theirs = page.elsewhere("the same after the cloud has lifted", "sun", "plans.toml")
    met = page.post("/plan?plan=midday", {**form, "day.wind": "5 m/s", "delay_out": "3 s"})
    assert met.status == 409 and page.text("plans.toml") == theirs
    again = met.form("/plan?plan=midday")
    assert (again["day.wind"], again["delay_out"], again["note"]) == ("5 m/s", "3 s", "sun")
    assert page.post("/plan?plan=midday", again).status == 200
    assert load(page.folder).plan("midday").day.wind_m_s == 5.0


def test_a_plan_renamed_elsewhere_is_known_again_and_one_taken_out_is_not_made_up(
    page: Page,
) -> None:
    form = page.get("/drawing?plan=midday").form("/plan?plan=midday")
    page.elsewhere('name = "midday"', 'name = "noon"', "plans.toml")
    met = page.post("/plan?plan=midday", {**form, "delay_out": "3 s"})
    assert met.status == 409 and "midday is called noon" in met.text
    page.post("/plan?plan=noon", met.form("/plan?plan=noon"))
    assert load(page.folder).plan("noon").delay_out_s == 3.0
    start = page.text("plans.toml").index('[[plan]]\nname = "noon"')
    end = page.text("plans.toml").index('[[plan]]\nname = "breezy"')
    form = page.get("/drawing?plan=noon").form("/plan?plan=noon")
    theirs = page.elsewhere(page.text("plans.toml")[start:end], "", "plans.toml")
    met = page.post("/plan?plan=noon", {**form, "delay_out": "2 s"})
    assert met.status == 409 and "noon is no longer in plans.toml" in met.text
    assert page.text("plans.toml") == theirs


def test_a_plan_is_copied_and_taken_out(page: Page) -> None:
    before = page.text("plans.toml")
    sheet = page.get("/drawing?plan=midday")
    done = page.post("/plan/copy?plan=midday", {**sheet.form("/plan/copy"), "name": " my  plan "})
    assert done.status == 200 and "Plan: my plan" in done.text
    one, other = (load(page.folder).plan(n) for n in ("midday", "my plan"))
    assert (one.day, one.motor, one.says) == (other.day, other.motor, other.says)
    done = page.post("/plan/remove?plan=my%20plan", done.form("/plan/remove"))
    assert done.status == 200 and page.text("plans.toml") == before


@pytest.mark.parametrize("name", ["", "  ", "morning", "a]b", 'a"b', "x" * 61])
def test_a_name_that_cannot_be_is_said_once_at_its_field(page: Page, name: str) -> None:
    before = page.text("plans.toml")
    hash_now = page.get("/drawing").form("/undo")["hash"]
    met = page.post("/plan/copy?plan=midday", {"hash": hash_now, "name": name})
    assert met.status == 422 and page.text("plans.toml") == before
    assert met.text.count("a name that no plan has yet") == 1
    assert re.findall(r'id="([\w-]+)"[^>]*aria-invalid', met.text) == ["copy-name"]


def test_the_last_plan_stays(page: Page) -> None:
    text = page.text("plans.toml")
    end = text.index('[[plan]]\nname = "cloudy"')
    (page.folder / "plans.toml").write_text(text[:end], "utf-8")
    sheet = page.get("/drawing")
    assert "/plan/remove" not in sheet.text
    met = page.post("/plan/remove?plan=morning", {"hash": sheet.form("/undo")["hash"]})
    assert met.status == 409 and "the only plan" in met.text
    assert page.text("plans.toml") == text[:end]


def test_a_what_if_is_kept_as_a_new_plan(page: Page) -> None:
    before = page.text("plans.toml")
    sheet = page.get("/ledger?plan=midday&delay_out=3&wind=5.5")
    form = {**sheet.form("/keep-plan"), "name": "windy"}
    done = page.post("/keep-plan?plan=midday&delay_out=3&wind=5.5", form)
    assert done.status == 200
    project = load(page.folder)
    assert (project.plan("windy").delay_out_s, project.plan("windy").day.wind_m_s) == (3.0, 5.5)
    assert (project.plan("midday").delay_out_s, project.plan("midday").day.wind_m_s) == (2.0, 3.5)
    page.post("/undo", done.form("/undo"))
    assert page.text("plans.toml") == before


def test_what_cannot_stand_in_a_plan_is_said_before_it_is_written(page: Page) -> None:
    rocket, plans = page.text(), page.text("plans.toml")
    path = "/keep-plan?plan=midday&ballast=0.04&delay_out=3"
    form = {
        **page.get("/ledger?plan=midday&ballast=0.04&delay_out=3").form("/keep-plan"),
        "name": "b",
    }
    asked = page.post(path, form)
    assert asked.status == 200 and "Changes every plan" in asked.text
    assert (page.text(), page.text("plans.toml")) == (rocket, plans)
    wrong = page.post(path, {**asked.form("/keep-plan"), "name": "morning"})
    assert wrong.status == 422 and "there is a plan morning already" in wrong.text
    assert (page.text(), page.text("plans.toml")) == (rocket, plans)
    done = page.post(path, wrong.form("/keep-plan") | {"name": "b"})
    assert done.status == 200 and load(page.folder).plan("b").delay_out_s == 3.0
    assert "40 g" in page.text()
    page.post("/undo", done.form("/undo"))
    assert (page.text(), page.text("plans.toml")) == (rocket, plans)


# --- motors -------------------------------------------------------------------------------------

TABLE = "time\tthrust\n0.05\t120\n0.9\t110\n1.5\t0"
MOTOR = {"name": "T-x", "diameter": "38 mm", "length": "180 mm", "propellant": "90 g",
         "loaded": "250 g", "delay": "9 s"}  # fmt: skip


def test_a_motor_is_shown_with_its_curve_added_and_taken_back(page: Page) -> None:
    look = page.post("/motor", {"table": TABLE, "act": "look"})
    assert look.status == 200 and 'class="thrust"' in look.text
    # by hand: 0.05*120/2 + 0.85*(120+110)/2 + 0.6*110/2 = 3 + 97.75 + 33 = 133.75 N s, class G
    figures = re.sub(r"<[^>]*>", " ", look.text)
    assert re.search(r"total impulse\s+134 N", figures) and re.search(r"class\s+G\b", figures)
    assert re.search(r"mean thrust\s+89.2 N", figures)  # 133.75 / 1.5
    files = set(page.folder.glob("motors/*"))
    form = {**look.form("/motor"), **MOTOR, "table": TABLE, "act": "write"}
    done = page.post("/motor", form)
    assert done.status == 200 and "T-x" in load(page.folder).motors
    page.post("/undo", done.form("/undo"))
    assert set(page.folder.glob("motors/*")) == files
    assert "T-x" not in load(page.folder).motors


def test_a_motor_that_met_another_change_keeps_its_table(page: Page) -> None:
    look = page.post("/motor", {"table": TABLE, "act": "look"})
    form = {**look.form("/motor"), **MOTOR, "table": TABLE, "act": "write"}
    page.elsewhere('"144 g measured"', '"147 g measured"')
    met = page.post("/motor", form)
    assert met.status == 409 and "Nothing is written yet" in met.text
    assert "T-x" not in load(page.folder).motors and "0.05\t120" in met.text
    page.post("/motor", {**met.form("/motor"), "table": TABLE, "act": "write"})
    assert "T-x" in load(page.folder).motors
