"""Every part kind is declared in one module, and everything else follows from it."""

import json
from pathlib import Path

from goodflight.physics.vehicle import parts as p
from goodflight.project import load
from goodflight.project.demo import write_demo
from goodflight.project.part_forms import entries_of
from goodflight.project.parts import KINDS, KINDS_BY_GROUP, OUTER
from goodflight.project.parts.table import GROUPS, PartTable
from goodflight.project.schemas import packaged


def test_kinds_stand_where_one_builds() -> None:
    assert list(KINDS_BY_GROUP) == list(GROUPS)
    assert list(KINDS) == [key for keys in KINDS_BY_GROUP.values() for key in keys]
    assert set(OUTER) == {"nose", "tube", "transition"}
    places = [(kind.group, kind.rank) for kind in KINDS.values()]
    assert len(places) == len(set(places))


def test_a_kind_names_only_keys_it_has() -> None:
    for kind in KINDS.values():
        keys = set(kind.table.model_fields)
        assert set(kind.table.words) <= keys, kind.key
        assert set(kind.still or ()) <= keys, kind.key
        assert not kind.fits or kind.fits in keys
        assert set(PartTable.model_fields) < keys


def test_schema_and_forms_follow() -> None:
    schema = json.loads(packaged()["rocket.json"])
    assert list(schema["properties"]["part"]["items"]["discriminator"]["mapping"]) == sorted(KINDS)
    for key, kind in KINDS.items():
        assert {entry.key for entry in entries_of(key)} == set(kind.table.model_fields) - {"kind"}


def test_every_kind_of_the_demo_becomes_a_record(tmp_path: Path) -> None:
    write_demo(tmp_path / "demo")
    project = load(tmp_path / "demo")
    built = {part.name: part for part in project.rocket().parts}
    for table in project.parts:
        if table.name in built:
            assert isinstance(built[table.name], p.Part)
