"""An editor that saves all the time while goodflight does, on a busy machine: nothing is lost.

OUTSIDE_SAVES=2000 makes the long run; what can happen is enumerated in test_project_faults.
"""

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from goodflight.project import ProjectErrors, SaveRefused, disk, folder, kept, load, saving
from goodflight.project.demo import write_demo

SAVES = int(os.environ.get("OUTSIDE_SAVES", "60"))
EDITOR = """
import os, random, sys
file, count, rng = sys.argv[1], int(sys.argv[2]), random.Random(7)
for number in range(count):
    with open(file, encoding="utf-8") as there:
        text = there.read() + f"# outside {number}\\n"
    if number % 2:
        with open(file, "w", encoding="utf-8") as there:
            there.write(text)
    else:
        with open(file + "~", "w", encoding="utf-8") as there:
            there.write(text)
        os.replace(file + "~", file)
    for _ in range(rng.randrange(20000)):
        pass
"""


@pytest.mark.skipif(not folder.HANDLES, reason="a moment stays open where handles are missing")
def test_no_outside_save_is_lost(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept, "NEWEST", 10 * SAVES + 1000)  # nothing is pruned here
    root = tmp_path / "demo"
    write_demo(root)
    project = load(root)
    # the content is not looked at: nearly all the time goes into saving
    monkeypatch.setattr(
        saving,
        "read_project",
        lambda texts, *_: replace(
            project, texts=dict(texts), hashes={n: disk.digest(t) for n, t in texts.items()}
        ),
    )
    busy = [subprocess.Popen([sys.executable, "-c", "while True: pass"]) for _ in range(2)]
    words = [sys.executable, "-c", EDITOR, str(root / "rocket.toml"), str(SAVES)]
    done = {"saved": 0, "refused": 0}
    try:
        with subprocess.Popen(words) as editor:
            while editor.poll() is None:
                done[_save(root, project, done["saved"])] += 1
            assert editor.returncode == 0
    finally:
        for each in busy:
            each.kill()
            each.wait()
    texts = [(root / "rocket.toml").read_text("utf-8")]
    texts += [v.path.read_text("utf-8") for v in saving.versions(root, "rocket.toml")]
    there = {line for text in texts for line in text.splitlines()}
    lost = [n for n in range(SAVES) if f"# outside {n}" not in there]
    print(f"{SAVES} outside saves, {done['saved']} of ours, {done['refused']} refused, {lost=}")
    assert not lost
    assert done["saved"] > 0


def _save(root: Path, project: Any, number: int) -> str:
    try:
        texts, _ = saving_texts(root)
        hashes = {name: disk.digest(text) for name, text in texts.items()}
        now = replace(project, texts=texts, hashes=hashes)
        text = texts["rocket.toml"].replace("\n", f"  # ours {number}\n", 1)
        saving.write_files(now, {"rocket.toml": text})
    except (SaveRefused, ProjectErrors, KeyError):
        return "refused"
    return "saved"


def saving_texts(root: Path) -> tuple[dict[str, str], Any]:
    with folder.Folder(root) as opened:
        return disk.read_in(opened)
