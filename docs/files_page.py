"""docs/files.md from the models of the project files, the words of each key on its field."""

from types import UnionType
from typing import Annotated, Any, Final, Literal, Union, get_args, get_origin

from goodflight.project.fields import Key, MaterialTable, Table, key_words, keys_of
from goodflight.project.materials import library
from goodflight.project.schemas import MODELS
from goodflight.project.text_fields import TextField

FILES: Final = {
    "rocket.json": "rocket.toml",
    "plans.json": "plans.toml",
    "motor.json": "motors/*.toml",
    "site.json": "sites/*.toml",
    "weighings.json": "weighings.toml",
    "build.json": "build.toml",
    "day.json": "day.toml",
    "notes.json": "flights/*/notes.toml",
    "code.json": "codes/*.toml",
    "idea.json": "idea.toml",
}
HEAD: Final = """# Project files

A project is a folder of plain text; everything the program shows comes from it. `rocket.toml` and
`plans.toml` must be there, and the motors and fields that the plans name. Keys that are not listed
are refused.

A quantity is a text with a unit, and may state one standard deviation and how it is known: `"212
g"`, `"212 g ± 5 g"`, `"79 mm measured"`, `"8 % label"`, `"1 1/2 in"`. Known by `guess`, `label`,
`measured` or `flight`; without the word it is a guess (a label for motors, measured for
weighings). Without ± the spread follows from how it is known.

Besides the tables below: `motors/*.csv`, the thrust curve, with the first line `time_s,thrust_n`
and `#` before remarks; `sites/*.geojson`, the outline. `.schema/` helps editors; `.versions/`
keeps the text before each change: [how files are read and saved](folder.md). The least that each
file may hold: [examples/minimal](examples/minimal/rocket.toml); every key:
[examples/full](examples/full/rocket.toml). Both are invented.

Spreads: at most 25 % of a length, 100 mm of a place on the rocket, 10 deg of an angle of a fin or
of the rail, 100 % of masses, strengths, times and shares. A file holds at most 10 000 lines, a
rocket 200 parts, a field 5 000 points in all its outlines, a thrust curve 5 000 rows; the first 100
faults are told.
"""


def tables() -> dict[str, tuple[str, type[Table]]]:
    """Every table once: model name -> (heading, model), in the order of the files."""
    found: dict[str, tuple[str, type[Table]]] = {}
    for schema, model in MODELS.items():
        _walk(model, f"`{FILES[schema]}`", found)
    return found


def _walk(model: type[Table], place: str, found: dict[str, tuple[str, type[Table]]]) -> None:
    if model.__name__ in found:
        return
    found[model.__name__] = (place, model)
    for key, field in model.model_fields.items():
        for inner in _inner(field.annotation):
            kind = inner.model_fields.get("kind")
            named = get_args(kind.annotation) if kind is not None and key == "part" else ()
            marks = f"[[{key}]]" if "list" in str(field.annotation) else f"[{key}]"
            words = f' kind = "{named[0]}"' if named else ""
            base = place.partition(", ")[0]
            _walk(inner, f"{base}, `{marks}{words}`", found)


def _inner(annotation: Any) -> list[type[Table]]:
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return [annotation]
    return [each for part in get_args(annotation) for each in _inner(part)]


def _form(annotation: Any, metadata: list[Any]) -> tuple[str, str]:
    """Return (kind and units, an example)."""
    for extra in [*metadata, *getattr(annotation, "__metadata__", ())]:
        if isinstance(extra, TextField):
            return extra.words, extra.example
    origin = get_origin(annotation)
    if origin is Annotated:
        return _form(get_args(annotation)[0], list(annotation.__metadata__))
    if origin in (Union, UnionType):
        rest = [each for each in get_args(annotation) if each is not type(None)]
        if any(_inner(each) == [MaterialTable] for each in rest):
            return "name, or a table", '"birch_plywood_4mm"'
        return _form(rest[0], [])
    if origin is Literal:
        choices = [str(each) for each in get_args(annotation)]
        return "one of " + ", ".join(choices), f'"{choices[0]}"'
    if origin is list:
        if _inner(annotation):
            return "tables", ""
        kind, example = _form(get_args(annotation)[0], [])
        return f"list of {kind}", f"[{example}]"
    if isinstance(annotation, type) and issubclass(annotation, Table):
        return "table", ""
    plain = {bool: ("true or false", "true"), int: ("whole number", "3"), float: ("number", "0.5")}
    return plain.get(annotation, ("text", '"..."'))


def _row(model: type[Table], key: str) -> str:
    field = model.model_fields[key]
    kind, example = _form(field.annotation, field.metadata)
    said = key_words(model, key) or Key("")
    default, example = said.left_out, f'"{said.example}"' if said.example else example
    if field.is_required():
        default = "required"
    elif not default:
        plain = field.get_default(call_default_factory=True)
        default = "" if plain is None or plain in ("", []) else str(plain).lower()
        default = "" if isinstance(plain, Table) else default
    cells = (f"`{key}`", said.meaning, kind, default or "-", f"`{example}`" if example else "")
    return f"| {' | '.join(cells)} |"


def page() -> str:
    """The whole page."""
    parts = [HEAD]
    for place, model in tables().values():
        about = (model.__doc__ or "").strip().split("\n")[0]
        rows = "\n".join(_row(model, key) for key in keys_of(model))
        lead = f"{about}\n\n" if about and not about.startswith("!") else ""
        parts.append(
            f"## {place}\n\n{lead}| key | meaning | kind and units | left out | example |\n"
            f"|---|---|---|---|---|\n{rows}\n"
        )
    return "\n".join([*parts, _materials()])


def _materials() -> str:
    """The materials that go by a name."""
    rows = "\n".join(
        f"| `{name}` | {each.material.density_kg_m3:g} ± {100 * each.density_spread:g} % "
        f"| {_in(1e9, each.material.shear_modulus_pa)} "
        f"| {_in(1e6, each.material.bending_strength_pa)} | {each.material.source} |"
        for name, each in library().items()
    )
    return (
        "## Materials\n\nWhat `material` may name; any other is described in place, in "
        "`[material]`. After the source: seen = read in a copy, memory = from memory, practice = "
        "common practice without a source. Rows that need a figure not given here are not known."
        "\n\n"
        "| name | density, kg/m3 | shear modulus, GPa "
        "| bending strength, MPa | source |\n"
        f"|---|---|---|---|---|\n{rows}\n"
    )


def _in(unit_pa: float, value_pa: float | None) -> str:
    return "-" if value_pa is None else f"{value_pa / unit_pa:g}"
