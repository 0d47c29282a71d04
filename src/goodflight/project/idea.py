"""An idea as read: `idea.toml`, with the motors and fields that stand beside it, checked."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from importlib.resources import files
from pathlib import Path
from typing import Any, Final

from goodflight.project.codes import packaged_codes
from goodflight.project.disk import read_files
from goodflight.project.faults import Fault, ProjectErrors
from goodflight.project.idea_file import IdeaFile, IdeaMotor, IdeaWind
from goodflight.project.materials import library
from goodflight.project.places import kind_of
from goodflight.project.sheets import Sheet, nearest, one_of, read_sheet
from goodflight.quantity import Quantity

IDEA: Final = "idea.toml"
ROOMS: Final = ("motors/", "sites/", "codes/")
# common practice, no source: on a launch day it is rarely calm, and few fly above 6 m/s
SEASON: Final = (("2 m/s", 2.0), ("4 m/s", 2.0), ("6 m/s", 1.0))


@dataclass(frozen=True)
class Idea:
    """What is wanted and what is at hand.

    beside : texts of motors/, sites/ and codes/ beside it, by path. motors : names of all motors
    at hand; the files they become are `motors/NAME.toml`.
    """

    said: IdeaFile
    beside: Mapping[str, str] = field(default_factory=dict)
    text: str = ""

    @cached_property
    def winds(self) -> tuple[IdeaWind, ...]:
        """The winds of the season, as typed or those taken where none are."""
        return tuple(self.said.wind) or tuple(
            IdeaWind.model_validate({"mean": mean, "weight": weight}) for mean, weight in SEASON
        )

    @property
    def motors(self) -> tuple[str, ...]:
        """Names of the files of the motors at hand, without ending."""
        stems = {
            name[7:-5]
            for name in self.beside
            if name.startswith("motors/") and name.endswith(".toml")
        }
        return tuple(sorted({*stems, *(each.name for each in self.said.motor)}))

    def told(self, name: str) -> IdeaMotor | None:
        """The motor of a name where it is told by its label, None where it has files."""
        return next((each for each in self.said.motor if each.name == name), None)


def example() -> str:
    """Return the text of a full example, every figure of it invented."""
    return files("goodflight.project").joinpath("data/idea.toml").read_text(encoding="utf-8")


def begin(folder: Path) -> None:
    """Write the example, with its schema for editors, into a folder that has no idea.toml yet.

    Raises
    ------
    SaveRefused - there is one already, or the folder cannot be written.
    """
    from goodflight.project.saving import write_project

    write_project(folder, {IDEA: example()})


def keep_idea(folder: Path, text: str) -> None:
    """Write idea.toml into a folder that holds no project yet, sound or not.

    Raises
    ------
    SaveRefused - a project stands there, or the folder cannot be written.
    """
    from goodflight.project.saving import write_first

    write_first(folder, {IDEA: text})


def idea_text(folder: Path) -> str:
    """Return the text of the idea in a folder; "" where there is none that can be read."""
    if kind_of(folder) != "a folder":
        return ""
    return read_files(folder)[0].get(IDEA, "")


def beside_idea(folder: Path) -> dict[str, str]:
    """Return the texts of motors/, sites/ and codes/ in a folder, whatever its idea.toml says."""
    return _beside(read_files(folder)[0]) if kind_of(folder) == "a folder" else {}


def _beside(texts: Mapping[str, str]) -> dict[str, str]:
    return {name: text for name, text in texts.items() if name.startswith(ROOMS)}


def load_idea(folder: Path | str) -> Idea:
    """Read the idea in a folder.

    Parameters
    ----------
    folder : Path or str - holds idea.toml, perhaps motors/ and sites/. [-]

    Returns
    -------
    idea : Idea - checked. [-]

    Raises
    ------
    ProjectErrors - something is wrong; `.faults` lists all of it.
    """
    root = Path(folder)
    if kind_of(root) != "a folder":
        found = kind_of(root) or "no such folder"
        advice = f"make a folder and put {IDEA} in it"
        raise ProjectErrors(
            [Fault(str(root), 0, "", found=found, expected="a folder with an idea", advice=advice)]
        )
    texts, faults = read_files(root)
    if faults:
        raise ProjectErrors(faults)
    return read_idea(texts)


def read_idea(texts: Mapping[str, str]) -> Idea:
    """Check the texts of an idea, by path inside its folder.

    Parameters
    ----------
    texts : mapping - texts by path; "idea.toml" must be one. [-]

    Returns
    -------
    idea : Idea - checked; what its motors and fields hold is checked with the first design. [-]

    Raises
    ------
    ProjectErrors - with every fault of idea.toml.
    """
    if IDEA not in texts:
        advice = "write one by hand, or let `goodflight size DIR --begin` write an example"
        raise ProjectErrors(
            [
                Fault(
                    IDEA,
                    0,
                    "",
                    found="no such file",
                    expected="what is at hand, in this file",
                    advice=advice,
                )
            ]
        )
    sheet = read_sheet(IDEA, texts[IDEA])
    said = sheet.check((), sheet.data, IdeaFile) if sheet.readable else None
    beside = _beside(texts)
    if said is not None:
        _check(sheet, said, beside)
    if sheet.faults or said is None:
        raise ProjectErrors(sheet.faults)
    return Idea(_in_order(said), beside, texts[IDEA])


def _in_order(said: IdeaFile) -> IdeaFile:
    """What is at hand by size, then by name: the order of the file decides nothing."""
    orders: dict[str, Callable[[Any], tuple[Any, ...]]] = {
        "wind": lambda w: (w.mean.value, _text(w.come_from), weight_of(w)),
        "motor": lambda m: (m.name,),
        "tube": lambda t: (t.outer_diameter.value, t.inner_diameter.value, t.material,
                           _text(t.length)),
        "mount": lambda m: (m.inner_diameter.value, m.outer_diameter.value),
        "sheet": lambda s: (s.thickness.value, s.material),
        "canopy": lambda c: (c.across.value, c.name),
        "cord": lambda c: (c.length.value, c.name),
    }  # fmt: skip
    return said.model_copy(
        update={key: sorted(getattr(said, key), key=order) for key, order in orders.items()}
    )


def _text(quantity: Quantity | None) -> str:
    return "" if quantity is None else quantity.text


def _check(sheet: Sheet, said: IdeaFile, beside: Mapping[str, str]) -> None:
    """What no single key can be checked for."""
    _check_names(sheet, said)
    _check_pieces(sheet, said)
    _check_motors(sheet, said, beside)
    sites = [name[6:-5] for name in beside if name.startswith("sites/") and name.endswith(".toml")]
    if said.site is None and said.field is None:
        sheet.add(
            ("field",),
            "nothing",
            'a [field], or site = "NAME" for a file in sites/',
            'add [field] with size = "400 m x 300 m" and rails = ["2.4 m"]',
        )
    elif said.site is not None and said.field is not None:
        sheet.add(("field",), "a field and a site", "one of them", "take one out")
    elif said.site is not None and said.site not in sites:
        wanted = one_of(sites) if sites else "a file in sites/"
        sheet.add(("site",), f'"{said.site}"', wanted, nearest(said.site, sites, "add the file"))
    if said.field is not None and said.field.code not in ("", *packaged_codes()):
        codes = list(packaged_codes())
        sheet.add(
            ("field", "code"),
            f'"{said.field.code}"',
            one_of(codes),
            nearest(said.field.code, codes),
        )
    if said.wind and not sum(map(weight_of, said.wind)) > 0.0:
        sheet.add(("wind",), "weights that add up to nothing", "one above 0", "give weights")


def _check_pieces(sheet: Sheet, said: IdeaFile) -> None:
    named = [(("tube", i), each.material) for i, each in enumerate(said.tube)]
    named += [(("sheet", i), each.material) for i, each in enumerate(said.sheet)]
    known = list(library())
    for path, material in named:
        if material not in known:
            sheet.add((*path, "material"), f'"{material}"', one_of(known), nearest(material, known))
    walls = [(("tube", i), t.inner_diameter, t.outer_diameter) for i, t in enumerate(said.tube)]
    walls += [(("mount", i), m.inner_diameter, m.outer_diameter) for i, m in enumerate(said.mount)]
    for path, inner, outer in walls:
        if inner.value >= outer.value:
            wanted = f"less than the outside diameter, {outer.text}"
            sheet.add((*path, "inner_diameter"), f'"{inner.text}"', wanted, "measure both again")


def _check_names(sheet: Sheet, said: IdeaFile) -> None:
    for key in ("motor", "canopy", "cord"):
        names = [each.name for each in getattr(said, key)]
        for i, name in enumerate(names):
            if name in names[:i]:
                sheet.add((key, i, "name"), f'"{name}" twice', "names of their own", "rename one")
    for i, motor in enumerate(said.motor):
        if "/" in motor.name or motor.name.startswith("."):
            sheet.add(
                ("motor", i, "name"),
                f'"{motor.name}"',
                "a name that a file can have",
                "leave out / and a dot in front",
            )


def _check_motors(sheet: Sheet, said: IdeaFile, beside: Mapping[str, str]) -> None:
    files_there = [name for name in beside if name.startswith("motors/")]
    if not said.motor and not files_there:
        sheet.add(
            ("motor",),
            "no motors",
            "at least one [[motor]], or files in motors/",
            "copy the figures of the label",
        )
    for i, each in enumerate(said.motor):
        if f"motors/{each.name}.toml" in files_there:
            sheet.add(
                ("motor", i, "name"),
                f'"{each.name}", which stands in motors/, too',
                "each motor once",
                "take this table out, or the files",
            )
        if each.propellant.value >= each.loaded.value:
            sheet.add(
                ("motor", i, "propellant"),
                f'"{each.propellant.text}"',
                f"less than the loaded mass, {each.loaded.text}",
                "loaded is the whole motor ready to fly",
            )
        if not 0.05 <= each.burn_time.value <= 60.0:
            sheet.add(
                ("motor", i, "burn_time"),
                f'"{each.burn_time.text}"',
                "0.05 s to 60 s",
                "copy it from the label",
            )
        for j, out in enumerate(each.delay_out_allowed):
            if each.delay is None or (out.value > 0.0 and out.value >= each.delay.value):
                text = "nothing" if each.delay is None else each.delay.text
                sheet.add(
                    ("motor", i, "delay_out_allowed", j),
                    f'"{out.text}"',
                    f"less than the delay, {text}",
                    "take it out",
                )


def assumptions(idea: Idea) -> tuple[tuple[str, str], ...]:
    """Return what is taken for granted and where to change it: (what, key of idea.toml or file).

    Parameters
    ----------
    idea : Idea - as read. [-]
    """
    said, found = idea.said, list[tuple[str, str]]()
    if not said.wind:
        found.append(
            (
                "winds of 2, 4 and 6 m/s on two, two and one of five launch days",
                "[[wind]] mean, weight",
            )
        )
    if any(each.come_from is None for each in idea.winds):
        found.append(
            (
                "the wind blows along the shorter side of the field, or from the west",
                "[[wind]] come_from",
            )
        )
    if said.field is not None:
        found.append(("the pad is in the middle of the field", "site, with a file in sites/"))
        if said.field.elevation is None:
            found.append(("the field lies 100 m above the sea", "[field] elevation"))
        if said.field.ceiling is None:
            found.append(("no ceiling was agreed", "[field] ceiling"))
        if not said.field.code:
            found.append(("no safety code is checked", "[field] code"))
    if said.motor:
        found.append(
            (
                "thrust curves are made up from impulse and burn time",
                "motors/, with the maker's curve",
            )
        )
    if said.carry is None:
        found.append(("nothing is carried; the nose itself comes off", "[carry]"))
    if said.evenings is None:
        found.append(("there are evenings enough", "evenings"))
    if any(each.mass is None for each in said.canopy):
        found.append(("canopies weigh 105 g a square metre with their lines", "[[canopy]] mass"))
    if any(each.mass is None for each in said.cord):
        found.append(("cords weigh 1.8 g a metre for each mm of width", "[[cord]] mass"))
    if any(each.elongation is None for each in said.cord):
        found.append(("cords stretch by 0.25 at their strength, as nylon", "[[cord]] elongation"))
    return tuple(found)


def weight_of(wind: IdeaWind) -> float:
    """How often a wind blows, in the measure it is given."""
    return 1.0 if wind.weight is None else wind.weight.value
