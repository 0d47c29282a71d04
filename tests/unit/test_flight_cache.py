"""Where compiled code is kept: in a place of one's own that can be written, whatever is missing."""

from pathlib import Path

import pytest

from goodflight.physics.flight import compiled


@pytest.fixture
def bare(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Path:
    """No variables, and a temporary folder of our own."""
    for name in ("LOCALAPPDATA", "XDG_CACHE_HOME"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    return tmp_path


def homeless(monkeypatch: pytest.MonkeyPatch) -> None:
    def home() -> Path:
        raise RuntimeError("Could not determine home directory.")

    monkeypatch.setattr(Path, "home", home)


def test_the_cache_of_the_user_is_taken(bare: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(bare / "a place é"))
    assert compiled.cache_folder().parent == bare / "a place é" / "goodflight"


@pytest.mark.usefixtures("bare")
def test_without_a_home_a_private_temporary_folder(
    bare: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    homeless(monkeypatch)
    found = compiled.cache_folder()
    assert found.is_relative_to(bare) and found.parent.stat().st_mode & 0o077 == 0
    assert compiled.cache_folder() == found


def test_a_home_that_is_a_file_is_passed_over(bare: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (bare / "file").write_text("")
    monkeypatch.setenv("XDG_CACHE_HOME", str(bare / "file"))
    homeless(monkeypatch)
    assert compiled.cache_folder().parent.name.startswith("goodflight-")


def test_a_folder_that_others_can_write_is_not_trusted(
    bare: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    homeless(monkeypatch)
    open_to_all = compiled.cache_folder().parent
    open_to_all.chmod(0o777)
    assert not compiled.cache_folder().is_relative_to(open_to_all)


def test_another_copy_of_the_sources_has_its_own_folder(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    before = compiled.kernel_hash()
    for name in compiled.KERNEL_SOURCES:
        (tmp_path / f"{name}.py").write_bytes((compiled._HERE / f"{name}.py").read_bytes())
    monkeypatch.setattr(compiled, "_HERE", tmp_path)
    assert compiled.kernel_hash() != before
