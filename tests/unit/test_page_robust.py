"""The page under odd files, odd forms and edits at a bad moment: one clear answer, nothing lost."""

import asyncio
import contextlib
import os
import shutil
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from starlette.testclient import TestClient

from goodflight.page import body
from goodflight.page.answers import Answers
from goodflight.page.app import make_app
from goodflight.page.body import BodyRefused, read_body
from goodflight.page.open_project import ChangedElsewhereError, OpenProject
from goodflight.page.work import SupersededError
from goodflight.project.editing import edit
from goodflight.project.motor_lines import LONGEST_ROW
from goodflight.project.motor_table import preview
from goodflight.studies.levers.whatif import tried
from goodflight.studies.questions.quick import quick_rows

HERE = "http://127.0.0.1:8311"
OURS = {"origin": HERE}
MASS = "rocket.toml:part[nose].mass"


@pytest.fixture
def root(folder: Path) -> Path:
    return folder


@pytest.fixture
def client(root: Path) -> Iterator[TestClient]:
    app = make_app(root, 8311)
    with TestClient(app, base_url=HERE, raise_server_exceptions=False) as found:
        yield found


def _link(root: Path, name: str, goal: Path | str) -> None:
    (root / name).unlink(missing_ok=True)
    (root / name).symlink_to(goal)


BROKEN: dict[str, tuple[Callable[[Path], Any], str]] = {
    "a link that leads nowhere": (lambda r: _link(r, "more.toml", "/nonexistent"), "a link"),
    "a rocket that leads nowhere": (lambda r: _link(r, "rocket.toml", "/nonexistent"), "a link"),
    "a link to itself": (lambda r: _link(r, "more.toml", r / "more.toml"), "a link"),
    "a folder": (lambda r: (r / "more.toml").mkdir(), "a folder"),
    "a pipe": (lambda r: os.mkfifo(r / "more.toml"), "a pipe"),
    "binary": (lambda r: (r / "rocket.toml").write_bytes(bytes(range(256))), "UTF-8"),
    "huge": (lambda r: (r / "rocket.toml").write_bytes(b"#" * 5_000_000), "5000000 bytes"),
    "brackets": (lambda r: (r / "rocket.toml").write_text("x = " + "[" * 100_000), "rocket.toml"),
    "digits": (lambda r: (r / "rocket.toml").write_text("x = " + "9" * 100_000), "rocket.toml"),
}


@pytest.mark.parametrize("kind", BROKEN)
def test_a_file_that_cannot_be_read_is_a_fault(root: Path, client: TestClient, kind: str) -> None:
    act, words = BROKEN[kind]
    assert client.get("/versions").status_code == 200
    time.sleep(0.03)  # the page looks at the folder once in a blink
    act(root)
    for path in ("/ledger", "/drawing", "/versions"):
        answer = client.get(path)
        assert answer.status_code == 422 and words in answer.text
        assert "Traceback" not in answer.text


def test_no_file_out_of_the_folder_is_read(root: Path, tmp_path: Path, client: TestClient) -> None:
    secret = tmp_path / "secret.toml"
    secret.write_text('password = "hunter2"\n')
    _link(root, "rocket.toml", secret)
    answer = client.get("/ledger")
    assert answer.status_code == 422 and "a link, which is not followed" in answer.text
    assert "hunter2" not in answer.text


def test_a_folder_taken_away_leads_to_the_start(root: Path, client: TestClient) -> None:
    drawn = OpenProject(root).hash
    shutil.rmtree(root)
    assert client.get("/ledger", follow_redirects=False).headers["location"] == "/start"
    answer = client.post("/part/nose/remove", data={"hash": drawn}, headers=OURS)
    assert answer.status_code in (409, 422) and "no project in this folder" in answer.text
    assert not root.exists()


def test_a_file_the_system_does_not_give_is_a_fault(
    root: Path, client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(place: Path) -> Any:
        raise FileNotFoundError(2, "No such file or directory", str(place / "plans.toml"))

    with monkeypatch.context() as patch:
        patch.setattr("goodflight.page.open_project.load", fail)
        answer = client.get("/versions")
        assert answer.status_code == 422 and "No such file" in answer.text
    time.sleep(0.03)
    assert client.get("/versions").status_code == 200  # it is tried again, though nothing moved


def test_a_full_disk_is_said_and_nothing_is_lost(
    root: Path, client: TestClient, monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(_handle: int) -> None:
        raise OSError(28, "No space left on device")

    before = (root / "rocket.toml").read_bytes()
    drawn = OpenProject(root).hash
    monkeypatch.setattr(os, "fsync", full)
    form = {"hash": drawn, "way": "down"}
    answer = client.post("/part/nose ballast/move", data=form, headers=OURS)
    assert answer.status_code in (409, 422) and "No space left" in answer.text
    assert (root / "rocket.toml").read_bytes() == before
    assert not list((root / ".versions").glob("scratch/*"))


def test_codes_of_the_field_are_watched(root: Path) -> None:
    store = OpenProject(root)
    drawn = store.hash
    (root / "codes").mkdir(exist_ok=True)
    (root / "codes" / "own.toml").write_text("junk = [\n")
    time.sleep(0.03)
    assert store.hash != drawn and store.faults[0].file == "codes/own.toml"


def test_an_edit_that_keeps_size_and_time_is_seen(root: Path) -> None:
    store, file = OpenProject(root), root / "rocket.toml"
    drawn, stat = store.hash, file.stat()
    text = file.read_text()
    file.write_text(text.replace("Fieldfare", "Fieldfarf"))
    os.utime(file, ns=(stat.st_atime_ns, stat.st_mtime_ns))
    time.sleep(0.03)
    assert store.hash != drawn


def test_an_answer_is_kept_under_the_files_it_was_read_from(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The files change while a study is being prepared: the next question gets the new ones."""
    kept = Answers(OpenProject(root))
    first = kept.store.hash

    def slow(case: Any, settings: Any) -> Any:
        found = tried(case, settings)
        text = (root / "rocket.toml").read_text()
        (root / "rocket.toml").write_text(text + "# changed meanwhile\n")
        time.sleep(0.03)
        return found

    with monkeypatch.context() as patch:
        patch.setattr("goodflight.page.answers.tried", slow)
        kept.layout(None, {})
    assert kept.store.hash != first
    assert kept.known("layout", None, {}) is None


@pytest.mark.parametrize("path", ["/ledger", "/drawing", "/flight"])
def test_a_sheet_is_drawn_again_when_files_changed_during_its_work(
    root: Path, client: TestClient, monkeypatch: pytest.MonkeyPatch, path: str
) -> None:
    drawn = OpenProject(root).hash

    def slow(*given: Any) -> Any:
        found = quick_rows(*given)
        text = (root / "rocket.toml").read_text()
        (root / "rocket.toml").write_text(text + "# changed meanwhile\n")
        time.sleep(0.03)
        return found

    monkeypatch.setattr("goodflight.page.answers.quick_rows", slow)
    text = client.get(path).text
    assert f'data-hash="{drawn}"' in text and f'data-hash="{OpenProject(root).hash}"' not in text


def test_of_two_changes_at_once_one_is_written(root: Path) -> None:
    store = OpenProject(root)
    drawn, start, met = store.hash, threading.Barrier(8), list[str]()

    def change(grams: int) -> None:
        start.wait()
        try:
            store.change("nose", drawn, lambda p: edit(p, MASS, f"{grams} g measured"))
            met.append("written")
        except ChangedElsewhereError:
            met.append("refused")

    threads = [threading.Thread(target=change, args=(150 + i,)) for i in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(met) == ["refused"] * 7 + ["written"]
    assert len(store.done) == 1


@pytest.mark.parametrize("line", ["1" + " " * 190_000 + "x", "1" * 190_000, "1," + "1" * 190_000])
def test_a_line_without_end_is_no_row(line: str) -> None:
    """Such a line took minutes; it is now not matched at all, whatever it holds."""
    read = preview(f"0,0\n{line}\n1,5\n2,0\n")
    assert read.curve is None and read.faults[0].line == 2
    assert preview("0,0\n1," + "5".rjust(LONGEST_ROW - 2) + "\n2,0\n").curve is not None


@pytest.mark.parametrize("mass", ["[" * 50_000, "9" * 5_000, "{a=" * 5_000])
def test_an_entry_without_end_is_a_fault_at_its_field(
    root: Path, client: TestClient, mass: str
) -> None:
    form = {"hash": OpenProject(root).hash, "kind": "nose", "name": "nose", "mass": mass}
    answer = client.post("/part/nose", data=form, headers=OURS)
    assert answer.status_code == 422 and 'id="partform"' in answer.text
    assert "set_int_max" not in answer.text


def test_a_name_with_a_slash_can_be_changed(root: Path, client: TestClient) -> None:
    for file in root.glob("*.toml"):
        file.write_text(file.read_text().replace("nose ballast", "nose/ballast"))
    form = {"hash": OpenProject(root).hash, "way": "down"}
    where = "/part/nose%2Fballast/move"
    answer = client.post(where, data=form, headers=OURS, follow_redirects=False)
    assert answer.status_code == 303


@pytest.mark.parametrize("number", ["²", "9" * 5000, "-1", "", "1.0"])
def test_a_version_that_is_no_number_is_said(client: TestClient, number: str) -> None:
    form = {"file": "rocket.toml", "version": number}
    answer = client.post("/versions", data=form, headers=OURS)
    assert answer.status_code == 422 and "Name the version by its number" in answer.text


@pytest.mark.parametrize("file", ["../../x", "/etc/passwd", "a" * 3000, "a\0b", "", "..", "lock"])
def test_a_version_of_no_file_is_said(client: TestClient, file: str) -> None:
    answer = client.post("/versions", data={"file": file, "version": "1"}, headers=OURS)
    assert answer.status_code == 409 and "has no version 1" in answer.text


def test_half_a_sign_in_a_form_is_replaced(root: Path, client: TestClient) -> None:
    head = b'--B\r\nContent-Disposition: form-data; name="table"\r\n\r\n'
    kind = {"content-type": "multipart/form-data; boundary=B; charset=unicode_escape"}
    answer = client.post("/motor", content=head + b"\\ud800\r\n--B--\r\n", headers={**OURS, **kind})
    assert answer.status_code == 422 and 'id="motor"' in answer.text


def test_a_slow_body_ends_with_its_time_or_with_the_server(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    async def never() -> Any:
        await asyncio.Event().wait()

    async def refused(stopping: threading.Event) -> int:
        with pytest.raises(BodyRefused) as met:
            await read_body(never, stopping)
        return met.value.status

    ended = threading.Event()
    ended.set()
    assert asyncio.run(refused(ended)) == 503
    monkeypatch.setattr(body, "LONGEST_S", 0.0)
    assert asyncio.run(refused(threading.Event())) == 408


@pytest.mark.parametrize("room", [".versions", "motors", "sites"])
def test_no_link_leads_a_write_out_of_the_folder(
    root: Path, tmp_path: Path, client: TestClient, room: str
) -> None:
    outside = tmp_path / "outside"
    outside.mkdir()
    shutil.rmtree(root / room, ignore_errors=True)
    (root / room).symlink_to(outside)
    store = OpenProject(root)
    if store.look() is not None:
        form = {"hash": store.hash, "way": "down"}
        answer = client.post("/part/nose ballast/move", data=form, headers=OURS)
        assert answer.status_code == 409 and "which is not followed" in answer.text
    assert not list(outside.iterdir())


def test_an_earlier_text_is_no_link_and_has_any_name(
    root: Path, tmp_path: Path, client: TestClient
) -> None:
    (tmp_path / "secret").write_text("hunter2")
    place = root / ".versions" / "rocket.toml"
    place.mkdir(parents=True)
    (place / "000001-20301231T235959Z-deadbeef").symlink_to(tmp_path / "secret")
    (place / "000002-20301231T235959Z-deadbeef").mkdir()
    (place / "000003-20309999T235959Z-deadbeef").write_text("# older\n")
    assert client.get("/versions").status_code == 200
    for number in ("1", "2"):
        form = {"hash": OpenProject(root).hash, "file": "rocket.toml", "version": number}
        answer = client.post("/versions", data=form, headers=OURS)
        assert answer.status_code == 409 and f"has no version {number}" in answer.text
        assert "hunter2" not in answer.text


def test_the_same_question_at_once_is_worked_on_once(
    root: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Eight tabs wait for one study; when it is stopped, the next one of them takes it up."""
    kept, asked, start = Answers(OpenProject(root)), list[int](), threading.Barrier(9)
    kept.tried(None, {})

    def slow(*_given: Any) -> Any:
        asked.append(1)
        time.sleep(0.5)  # all have come by then
        if len(asked) == 1:
            raise SupersededError
        return "where everything is"

    monkeypatch.setattr("goodflight.page.answers.layout_of", slow)
    found = list[Any]()

    def ask() -> None:
        start.wait()
        with contextlib.suppress(SupersededError):
            found.append(kept.layout(None, {}))

    threads = [threading.Thread(target=ask) for _ in range(8)]
    for thread in threads:
        thread.start()
    start.wait()
    for thread in threads:
        thread.join()
    assert len(asked) == 2 and len(found) == 7
    assert not kept.gates
