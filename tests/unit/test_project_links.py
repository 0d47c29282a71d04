"""A project from a stranger: whatever lies in its folder, what is outside stays as it is."""

import os
import shutil
import socket
from collections.abc import Callable
from pathlib import Path

import pytest
from starlette.testclient import TestClient

from goodflight.cli import BAD_INPUT, DONE, shell
from goodflight.page.app import make_app
from goodflight.page.open_project import OpenProject
from goodflight.project import (
    Fault,
    ProjectErrors,
    Refused,
    SaveRefused,
    bring_back,
    edit,
    folder,
    keep_version,
    load,
    versions,
    write_files,
    write_project,
)
from goodflight.project.demo import write_demo
from goodflight.project.folder import Folder

HERE = "http://127.0.0.1:8311"
SECRET = "hunter2"
VERSION = "000001-20300101T000000Z-deadbeef"
Plant = Callable[[Path, Path], object]


def link(name: str, goal: str = "") -> Plant:
    """Put a link in place of a name; it leads to the outside folder or to something in it."""

    def plant(root: Path, outside: Path) -> None:
        place = root / name
        place.parent.mkdir(parents=True, exist_ok=True)
        if place.is_dir():
            shutil.rmtree(place)
        place.unlink(missing_ok=True)
        place.symlink_to(outside / goal if goal else outside)

    return plant


def pipe(name: str) -> Plant:
    def plant(root: Path, _outside: Path) -> None:
        place = root / name
        place.parent.mkdir(parents=True, exist_ok=True)
        if place.is_dir():
            shutil.rmtree(place)
        place.unlink(missing_ok=True)
        os.mkfifo(place)

    return plant


def journal(row: str) -> Plant:
    def plant(root: Path, _outside: Path) -> None:
        (root / ".versions").mkdir(exist_ok=True)
        (root / ".versions/journal").write_text(row)

    return plant


def entry(file: str, slot: str = ".versions/scratch/1-1-0") -> str:
    hashes = f'"old": "{"0" * 64}", "new": null'
    row = f'{{"file": "{file}", {hashes}, "slot": "{slot}", "kept": "{VERSION}"}}'
    return f'{{"entries": [{row}], "folders": []}}'


ATTACKS: dict[str, Plant] = {
    "scratch": link(".versions/scratch"),
    "a file in scratch": link(".versions/scratch/1-1", "secret.toml"),
    "lock": link(".versions/lock", "made"),
    "lock over a file": link(".versions/lock", "secret.toml"),
    "hidden folder": link(".versions"),
    "folder of versions": link(".versions/rocket.toml"),
    "folder of other versions": link(".versions/motors"),
    "a version": link(f".versions/rocket.toml/{VERSION}", "secret.toml"),
    "journal": link(".versions/journal", "secret.toml"),
    "journal of ..": journal(entry("../outside/secret.toml")),
    "journal of an absolute name": journal(entry("/etc/passwd")),
    "journal of a slot outside": journal(entry("rocket.toml", "../outside/1-1-0")),
    "journal of nothing": journal("[" * 5000),
    "motors": link("motors"),
    "sites": link("sites"),
    "flights": link("flights"),
    "one flight": link("flights/first"),
    "codes": link("codes"),
    "schema": link(".schema"),
    "rocket.toml": link("rocket.toml", "secret.toml"),
    "build.toml": link("build.toml", "secret.toml"),
    "a new build.toml": link("build.toml", "made"),
    "a loop": link("codes", "../demo/codes"),
    "pipe: lock": pipe(".versions/lock"),
    "pipe: scratch": pipe(".versions/scratch"),
    "pipe: hidden folder": pipe(".versions"),
    "pipe: journal": pipe(".versions/journal"),
    "pipe: motors": pipe("motors"),
    "pipe: build.toml": pipe("build.toml"),
    "pipe: a version": pipe(f".versions/rocket.toml/{VERSION}"),
}


def look(place: Path) -> dict[str, tuple[int, int, bytes]]:
    """Everything outside: names, times, contents."""
    return {
        str(path): (
            path.lstat().st_mtime_ns,
            path.lstat().st_mode,
            path.read_bytes() if path.is_file() else b"",
        )
        for path in sorted([place, *place.rglob("*")])
    }


def moved(root: Path) -> object:
    return edit(load(root), "rocket.toml:part[nose].mass", "147 g measured")


def built(root: Path) -> object:
    project = load(root)
    return write_files(project, {"build.toml": project.texts.get("build.toml", "") + "\n# more\n"})


def brought(root: Path) -> object:
    return bring_back(root, "rocket.toml", 1)


def command(*words: str) -> Callable[[Path], object]:
    def act(root: Path) -> object:
        code = shell.run([word.replace("DIR", str(root)) for word in words])
        assert code in (DONE, BAD_INPUT)
        return code

    return act


def page(root: Path) -> object:
    """The page's ways to the disk: look, move a part, bring a version back, list them."""
    app = make_app(root, 8311)
    with TestClient(app, base_url=HERE, raise_server_exceptions=False) as client:
        for path, form in (
            ("/part/nose ballast/move", {"way": "down"}),
            ("/versions", {"file": "rocket.toml", "version": "1"}),
            ("/versions/keep", {"file": "rocket.toml", "version": "1", "kept": "yes"}),
        ):
            data = {**form, "hash": OpenProject(root).hash}
            answer = client.post(path, data=data, headers={"origin": HERE}, follow_redirects=False)
            assert answer.status_code in (303, 404, 409, 422), answer.text
            assert SECRET not in answer.text and "Traceback" not in answer.text
        answer = client.get("/versions")
        assert answer.status_code in (200, 409, 422) and SECRET not in answer.text
    return None


ENTRIES: dict[str, Callable[[Path], object]] = {
    "library: edit": moved,
    "library: build": built,
    "library: bring back": brought,
    "library: keep": lambda root: keep_version(root, "rocket.toml", 1),
    "library: versions": lambda root: versions(root, "rocket.toml"),
    "library: new": lambda root: write_project(root, {"rocket.toml": "", "motors/a.csv": ""}),
    "command: versions": command("versions", "DIR"),
    "command: restore": command("restore", "DIR", "rocket.toml", "1"),
    "command: keep": command("versions", "DIR", "rocket.toml", "--keep", "1"),
    "page": page,
}


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    root = tmp_path_factory.mktemp("sound") / "demo"
    write_demo(root)
    edit(load(root), "rocket.toml:part[nose].mass", "146 g measured")
    return root


@pytest.fixture
def places(tmp_path: Path, sound: Path) -> tuple[Path, Path]:
    root, outside = tmp_path / "demo", tmp_path / "outside"
    shutil.copytree(sound, root)
    outside.mkdir()
    for name in ("secret.toml", "1-1", "12-34-0", VERSION, "H-b.csv", "notes.toml"):
        (outside / name).write_text(f'password = "{SECRET}"\n')
    return root, outside


@pytest.mark.parametrize("way", ["handles", "without handles"])
@pytest.mark.parametrize("entry_point", ENTRIES)
def test_no_attack_reaches_outside(
    places: tuple[Path, Path],
    entry_point: str,
    way: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    """Every attack on every way in; an answer each time, in words, and nothing outside moved."""
    monkeypatch.setattr(folder, "HANDLES", folder.HANDLES and way == "handles")
    root, outside = places
    clean = tmp_path / "clean"
    root.rename(clean)
    before = look(outside)
    for name, plant in ATTACKS.items():
        shutil.rmtree(root, ignore_errors=True)
        shutil.copytree(clean, root)
        plant(root, outside)
        try:
            ENTRIES[entry_point](root)
        except Refused as error:
            assert SECRET not in str(error), name
            assert all(record["found"] for record in error.records), name
        shown = capsys.readouterr()
        assert SECRET not in shown.out + shown.err and "Traceback" not in shown.err, name
        assert look(outside) == before, name


@pytest.mark.parametrize("attack", [name for name in ATTACKS if "a version" not in name])
def test_each_attack_is_one_clear_fault(places: tuple[Path, Path], attack: str) -> None:
    root, outside = places
    if attack in ("schema", "a file in scratch", "folder of other versions"):
        pytest.skip("this name is neither read nor written in this save: it stays as it is")
    ATTACKS[attack](root, outside)
    with pytest.raises((ProjectErrors, SaveRefused)) as caught:
        moved(root)
    records = [dict(record) for record in caught.value.records]
    own = [
        r
        for r in records
        if "which is not followed" in str(r["found"])
        or str(r["found"]) in ("a pipe", "a text that goodflight did not write")
    ]
    assert own and own[0]["advice"] and own[0]["file"], records


NAMES = ("../outside/secret.toml", "motors/../../outside/x.csv", "/etc/passwd", ".versions/lock",
         "..", ".", "", "a\0b", "motors//x.csv", "x" * 5000, "notes.txt", ".versions/journal",
         "motors/.hidden.csv", "C:\\x.toml")  # fmt: skip


@pytest.mark.parametrize("name", NAMES)
def test_no_name_leads_outside(places: tuple[Path, Path], name: str) -> None:
    root, outside = places
    before, project = look(outside), load(root)
    for act in (
        lambda: write_files(project, {name: "x = 1\n"}),
        lambda: write_files(project, {name: None}),
        lambda: bring_back(root, name, 1),
        lambda: keep_version(root, name, 1),
        lambda: write_project(root.parent / "new", {name: "x = 1\n"}),
    ):
        try:
            done = act()
        except Refused:
            continue
        assert done is project  # nothing was to be done
    assert versions(root, name) == ()
    assert look(outside) == before
    assert not (root / "x").exists()


def test_sockets_and_devices_are_named(places: tuple[Path, Path]) -> None:
    root, _ = places
    (root / "build.toml").unlink()
    with socket.socket(socket.AF_UNIX) as plug:
        here = os.open(root, os.O_RDONLY)
        plug.bind(f"/proc/self/fd/{here}/build.toml")
        os.close(here)
        assert [f.found for f in faults_of(root)] == ["a socket"]
    (root / "build.toml").unlink()
    try:
        os.mknod(root / "build.toml", 0o600 | 0o020000, os.makedev(1, 3))
    except OSError:
        pytest.skip("only root makes devices")
    assert [f.found for f in faults_of(root)] == ["a device"]


def test_files_of_another_user_are_named(
    places: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch
) -> None:
    root, _ = places
    monkeypatch.setattr(folder, "user", lambda: 4_000_001)
    fault = faults_of(root)[0]
    assert fault.found.endswith(f"of another user (number {os.geteuid()})")
    assert "chown 4000001" in fault.advice


def faults_of(root: Path) -> tuple[Fault, ...]:
    with pytest.raises(ProjectErrors) as caught:
        load(root)
    return caught.value.faults


def test_only_own_names_are_deleted(tmp_path: Path) -> None:
    (tmp_path / ".versions/scratch").mkdir(parents=True)
    names = ("rocket.toml", ".versions/lock", ".versions/scratch/mine", ".versions/notes")
    with Folder(tmp_path) as opened:
        for name in names:
            (tmp_path / name).write_text("")
            with pytest.raises(SaveRefused, match="not the program's"):
                opened.drop(name)
            assert (tmp_path / name).exists()


@pytest.mark.skipif(os.geteuid() == 0, reason="root reads everything")
def test_an_unreadable_hidden_folder_is_told(places: tuple[Path, Path]) -> None:
    root, _ = places
    (root / ".versions").chmod(0)
    assert shell.run(["versions", str(root)]) == BAD_INPUT


def test_a_hidden_folder_the_system_refuses_is_told(
    places: tuple[Path, Path], monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def refuses(act: Callable[..., object], *args: object, **more: object) -> object:
        if act is os.open and args[0] == ".versions":
            raise PermissionError(13, "Permission denied")
        return act(*args, **more)

    root, _ = places
    monkeypatch.setattr(folder, "call", refuses)
    for words in (["versions", str(root)], ["restore", str(root), "rocket.toml", "1"]):
        assert shell.run(words) == BAD_INPUT
        assert "Permission denied" in capsys.readouterr().err
    with pytest.raises(SaveRefused, match="Permission denied"):
        moved(root)
