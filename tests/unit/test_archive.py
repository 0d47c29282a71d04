"""A project as one zip file: whole, the same each time, and nothing hostile is ever written.

Every hostile archive is made here with the zip format's own fields (APPNOTE 6.3.10, PKWARE, from
memory: names of the fields; the bytes are those that Python's zipfile writes).
"""

import io
import os
import random
import stat
import struct
import zipfile
from collections.abc import Callable
from pathlib import Path

import pytest

from goodflight.project import ProjectErrors, SaveRefused, load
from goodflight.project.archive import archive, contents_of, open_archive
from goodflight.project.budgets import MAX_ARCHIVE_BYTES, MAX_ARCHIVED
from goodflight.project.demo import demo_files
from goodflight.project.folder import LARGEST, LARGEST_LOG
from goodflight.quantity import Refused

LOG = b"t,h\n0.00,0.0\n0.05,\xb2 not utf-8: as the instrument wrote it\n"


@pytest.fixture
def flown(folder: Path) -> Path:
    """The demo with a flight that has notes and a log, and files that are nobody's business."""
    (folder / "flights" / "first").mkdir(parents=True)
    (folder / "flights" / "first" / "log.csv").write_bytes(LOG)
    (folder / "flights" / "first" / "photo.jpg").write_bytes(b"\xff\xd8")
    (folder / "diary.txt").write_text("private")
    (folder / ".secret.toml").write_text("private = 1")
    return folder


def test_an_archive_opens_as_the_same_project(flown: Path, tmp_path: Path) -> None:
    file = tmp_path / "sent.zip"
    file.write_bytes(archive(flown))
    there = open_archive(file, tmp_path / "there")
    assert there.hashes == load(flown).hashes == load(tmp_path / "there").hashes
    assert (tmp_path / "there" / "flights" / "first" / "log.csv").read_bytes() == LOG
    names = zipfile.ZipFile(file).namelist()
    assert sorted(names) == names and "flights/first/log.csv" in names
    assert not {"diary.txt", ".secret.toml", "flights/first/photo.jpg"} & set(names)
    assert not any(name.startswith(".") for name in names)


def test_a_log_longer_than_a_file_of_the_project_is_carried_too(
    flown: Path, tmp_path: Path
) -> None:
    long = flown / "flights/first/long.csv"
    long.write_bytes(b"1,2\n" * (LARGEST // 4 + 1))
    (tmp_path / "sent.zip").write_bytes(archive(flown))
    open_archive(tmp_path / "sent.zip", tmp_path / "opened")
    assert (tmp_path / "opened/flights/first/long.csv").read_bytes() == long.read_bytes()


def test_the_same_files_give_the_same_bytes(flown: Path, tmp_path: Path) -> None:
    first = archive(flown)
    file = tmp_path / "sent.zip"
    file.write_bytes(first)
    open_archive(file, tmp_path / "there")  # written now, elsewhere, by another process perhaps
    assert archive(tmp_path / "there") == first
    assert all(each.date_time[:3] == (1980, 1, 1) for each in zipfile.ZipFile(file).infolist())


def test_nothing_is_written_over(flown: Path, tmp_path: Path) -> None:
    file = tmp_path / "sent.zip"
    file.write_bytes(archive(flown))
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "mine.txt").write_text("mine")
    with pytest.raises(SaveRefused, match="not empty"):
        open_archive(file, tmp_path / "full")
    assert [each.name for each in (tmp_path / "full").iterdir()] == ["mine.txt"]


def test_what_lies_outside_is_not_archive(flown: Path, tmp_path: Path) -> None:
    (tmp_path / "outside.csv").write_text("secret")
    (flown / "flights" / "first" / "more.csv").symlink_to(tmp_path / "outside.csv")
    with pytest.raises(ProjectErrors, match=r"more\.csv: found a link"):
        archive(flown)


def plain(_entry: zipfile.ZipInfo) -> None:
    """Leave the entry as it is."""


def zipped(
    *more: tuple[str, bytes],
    change: Callable[[zipfile.ZipInfo], None] = plain,
    method: int = zipfile.ZIP_DEFLATED,
) -> bytes:
    """The demo as an archive with entries added, each changed before it is written."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as made:
        for name, text in demo_files().items():
            made.writestr(name, text)
        for name, content in more:
            entry = zipfile.ZipInfo(name)
            entry.compress_type = method
            change(entry)
            made.writestr(entry, content)
    return out.getvalue()


def a_kind(mode: int) -> Callable[[zipfile.ZipInfo], None]:
    def change(entry: zipfile.ZipInfo) -> None:
        entry.create_system, entry.external_attr = 3, mode << 16

    return change


def patched(raw: bytes, local: int, listed: int, form: str, value: int) -> bytes:
    """One field of the last entry, in its own head and in the list at the end, set anew."""
    data = bytearray(raw)
    struct.pack_into(form, data, data.rindex(b"PK\x03\x04") + local, value)
    struct.pack_into(form, data, data.rindex(b"PK\x01\x02") + listed, value)
    return bytes(data)


def renamed(old: bytes, new: bytes) -> bytes:
    """An archive whose last entry got another name of the same length, as bytes."""
    assert len(old) == len(new)
    return zipped((old.decode(), b"x = 1\n")).replace(old, new)


ONE = ("motors/more.csv", b"0,0\n1,1\n")
HOSTILE: dict[str, tuple[Callable[[], bytes], str]] = {
    "no zip": (lambda: b"PK\x03\x04 but no zip file", "no sound zip file"),
    "empty": (lambda: b"", "no sound zip file"),
    "cut off": (lambda: zipped()[:-30], "no sound zip file"),
    "above": (lambda: zipped(("../outside.toml", b"x = 1\n")), "leads out of the folder"),
    "above, inside": (lambda: zipped(("motors/../../o.csv", b"")), "leads out of the folder"),
    "from the root": (lambda: zipped(("/etc/passwd", b"")), "leads out of the folder"),
    "from a drive": (lambda: zipped(("C:/x.toml", b"")), "leads out of the folder"),
    "backslashes": (lambda: renamed(b"motors/oo.csv", b"..\\..\\ooo.csv"), "leads out of the"),
    "a device": (lambda: zipped(("motors/NUL.csv", b"")), "not every machine can hold"),
    "a stream": (lambda: zipped(("motors/a.csv:b", b"")), "leads out of the folder"),
    "a dot at the end": (lambda: zipped(("motors/a.csv.", b"")), "not every machine can hold"),
    "a zero sign": (lambda: renamed(b"motors/a_.csv", b"motors/a\0.csv"), "control characters"),
    "a bell": (lambda: zipped(("motors/a\a.csv", b"")), "control characters"),
    "a long name": (lambda: zipped((f"motors/{'x' * 4000}.csv", b"")), "a long one"),
    "not UTF-8": (lambda: renamed(b"motors/a_.csv", b"motors/a\xe9.csv"), "not in UTF-8"),
    "broken UTF-8": (
        lambda: patched(renamed(b"motors/a_.csv", b"motors/a\xe9.csv"), 6, 8, "<H", 0x800),
        "no sound zip file",
    ),
    "a hidden file": (lambda: zipped((".versions/journal", b"")), "no file of a project"),
    "a schema": (lambda: zipped((".schema/rocket.json", b"{}")), "no file of a project"),
    "a program": (lambda: zipped(("run.py", b"")), "no file of a project"),
    "a folder": (lambda: zipped(("motors/", b"")), "no file of a project"),
    "a link": (lambda: zipped(("motors/a.csv", b"/etc/passwd"), change=a_kind(stat.S_IFLNK)),
               "a link"),
    "a pipe": (lambda: zipped(("motors/a.csv", b""), change=a_kind(stat.S_IFIFO | 0o666)),
               "something else than a plain file"),
    "a device by kind": (lambda: zipped(("motors/a.csv", b""), change=a_kind(stat.S_IFCHR | 0o666)),
                         "something else than a plain file"),
    "encrypted": (lambda: patched(zipped(ONE), 6, 8, "<H", 0x1), "an encrypted file"),
    "strongly encrypted": (lambda: patched(zipped(ONE), 6, 8, "<H", 0x41), "an encrypted file"),
    "another compression": (lambda: zipped(ONE, method=zipfile.ZIP_LZMA), "compression"),
    "two of one name": (lambda: zipped(ONE, ONE), "the same name as motors/more.csv"),
    "two on some disks": (lambda: zipped(ONE, ("motors/MORE.csv", b"")), "the same name as"),
    "two letters of one look": (
        lambda: zipped(("motors/\xe9.csv", b""), ("motors/e\u0301.csv", b"")), "the same name as"
    ),
    "a second rocket": (lambda: zipped(("rocket.toml", b"x = 1\n")), "the same name as"),
    "a large file": (lambda: zipped(("motors/a.csv", bytes(LARGEST + 1))), "at most 4000000 bytes"),
    "a large log": (
        lambda: zipped(("flights/a/log.csv", bytes(LARGEST_LOG + 1))),
        "at most 32000000 bytes",
    ),
    "large in all": (
        lambda: zipped(*((f"flights/{n}/log.csv", bytes(LARGEST)) for n in range(17))),
        f"at most {MAX_ARCHIVE_BYTES} bytes",
    ),
    "many": (
        lambda: zipped(*((f"motors/{n}.csv", b"") for n in range(MAX_ARCHIVED))),
        f"at most {MAX_ARCHIVED} in one archive",
    ),
    "smaller than it says": (
        lambda: patched(zipped(ONE, method=zipfile.ZIP_STORED), 22, 24, "<I", 900), "zip file"
    ),
    "larger than it says": (
        lambda: patched(zipped(("motors/a.csv", bytes(3_000_000))), 22, 24, "<I", 5), "zip file"
    ),
    "other bytes than it says": (
        lambda: zipped(ONE, method=zipfile.ZIP_STORED).replace(b"1,1\n", b"9,9\n"), "Bad CRC"
    ),
    "no text": (lambda: zipped(("motors/a.csv", b"\xff\xfe")), "the byte 0xff"),
    "no project": (lambda: zipped(("sites/odd.toml", b"x = \n")), "sites/odd.toml"),
}  # fmt: skip


@pytest.mark.filterwarnings("ignore:Duplicate name")
@pytest.mark.parametrize("name", HOSTILE)
def test_a_hostile_archive_is_one_message_and_writes_nothing(name: str, tmp_path: Path) -> None:
    make, words = HOSTILE[name]
    place = tmp_path / "in"
    place.mkdir()
    (place / "odd.zip").write_bytes(make())
    with pytest.raises(Refused) as caught:
        open_archive(place / "odd.zip", place / "there")
    assert words in str(caught.value)
    assert all(record["found"] and record["advice"] for record in caught.value.records)
    assert [each.name for each in tmp_path.rglob("*")] == ["in", "odd.zip"]


def test_the_archives_of_these_tests_differ_only_in_what_is_hostile(tmp_path: Path) -> None:
    (tmp_path / "sound.zip").write_bytes(zipped(("flights/one/log.txt", b"sound")))
    assert open_archive(tmp_path / "sound.zip", tmp_path / "there").name == "Fieldfare"


@pytest.mark.parametrize("name", ["a folder", "nothing", "a pipe"])
def test_what_is_no_file_is_not_opened(name: str, tmp_path: Path) -> None:
    place = tmp_path / "odd.zip"
    if name == "a folder":
        place.mkdir()
    elif name == "a pipe":
        os.mkfifo(place)
    with pytest.raises(SaveRefused, match="a file that can be read"):
        open_archive(place, tmp_path / "there")


def test_a_huge_file_is_not_read(tmp_path: Path) -> None:
    place = tmp_path / "odd.zip"
    with open(place, "wb") as file:
        file.truncate(MAX_ARCHIVE_BYTES + 1)
    with pytest.raises(SaveRefused, match="more than 64000000 bytes"):
        open_archive(place, tmp_path / "there")


def test_a_million_entries_are_counted_not_listed() -> None:
    with pytest.raises(SaveRefused, match="1000000 files"):
        contents_of(b"PK\x01\x02" * 1_000_000, "odd.zip")


def test_a_damaged_archive_is_never_more_than_a_refusal() -> None:
    """A thousand archives with a few bytes set at random: an answer in words or the same files."""
    sound, chance = zipped(ONE), random.Random(1)
    whole, refused = contents_of(sound, "x"), 0
    for _ in range(1000):
        data = bytearray(sound)
        for _ in range(chance.choice((1, 2, 8))):
            data[chance.randrange(len(data))] = chance.randrange(256)
        try:
            found = contents_of(bytes(data), "x")
        except Refused as error:
            refused += 1
            assert error.records[0]["advice"]
        else:
            assert set(map(len, found.values())) and len(found) <= len(whole)
    assert refused > 500
