"""JSON Schema of every project file, made from the models, for editors with completions."""

import json
from importlib.resources import files
from pathlib import Path
from typing import Any, Final

from goodflight.project.bench_files import BuildFile, NotesFile, WeighingsFile
from goodflight.project.codes import CodeFile
from goodflight.project.day_file import DayFile
from goodflight.project.fields import Table
from goodflight.project.flight_files import PlansFile, SiteFile
from goodflight.project.idea_file import IdeaFile
from goodflight.project.motor_files import MotorFile
from goodflight.project.rocket_file import RocketFile

MODELS: Final[dict[str, type[Table]]] = {
    "rocket.json": RocketFile,
    "plans.json": PlansFile,
    "motor.json": MotorFile,
    "site.json": SiteFile,
    "weighings.json": WeighingsFile,
    "build.json": BuildFile,
    "day.json": DayFile,
    "notes.json": NotesFile,
    "code.json": CodeFile,
    "idea.json": IdeaFile,
}


def _plain(node: Any) -> Any:
    """Drop what an editor does not need: titles, null branches and their defaults."""
    if isinstance(node, list):
        return [_plain(each) for each in node]
    if not isinstance(node, dict):
        return node
    branches = node.get("anyOf")
    if isinstance(branches, list) and {"type": "null"} in branches:
        rest = [each for each in branches if each != {"type": "null"}]
        node = {key: value for key, value in node.items() if key not in ("anyOf", "default")}
        node = _joined(node, rest[0]) if len(rest) == 1 else {**node, "anyOf": rest}
    return {
        key: _plain(value)
        for key, value in node.items()
        if not (key == "title" and isinstance(value, str))
    }


def _joined(node: dict[str, Any], inner: dict[str, Any]) -> dict[str, Any]:
    """One node of two: what the key is for, then what may be written there."""
    words = [each["description"] for each in (node, inner) if "description" in each]
    return {**node, **inner} | ({"description": "; ".join(words)} if words else {})


def schema_text(name: str) -> str:
    """Return the JSON Schema of one kind of file, made afresh from its model."""
    schema = _plain(MODELS[name].model_json_schema(mode="validation"))
    head = {"$schema": "https://json-schema.org/draft/2020-12/schema"}
    return json.dumps({**head, **schema}, indent=1, ensure_ascii=False) + "\n"


def packaged() -> dict[str, str]:
    """Return the schemas shipped with the package, by file name."""
    folder = files("goodflight.project").joinpath("schema")
    return {name: folder.joinpath(name).read_text(encoding="utf-8") for name in MODELS}


def renew() -> None:
    """Write the schemas of the package anew from the models (for developers)."""
    for name in MODELS:
        Path(__file__).with_name("schema").joinpath(name).write_text(schema_text(name), "utf-8")


if __name__ == "__main__":
    renew()
