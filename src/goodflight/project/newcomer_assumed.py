"""What the first form takes for granted: each a box of it, and listed until it is changed.

What it works out from the answers (the coupler, the mass of the parachute) has no box there; it is
listed all the same. An assumption counts as one while its entry stands in the file as it was made.
"""

from dataclasses import dataclass
from typing import Final

from goodflight.project.answering import answer
from goodflight.project.editing import entry_in
from goodflight.project.faults import SaveRefused
from goodflight.project.materials import library
from goodflight.project.newcomer_asked import ROCKET, Known, in_form
from goodflight.project.newcomer_known import check_known
from goodflight.project.newcomer_texts import RINGS
from goodflight.project.records import Project
from goodflight.quantity import QuantityError

# What is asked once for parts of which each has the key by itself, by its place
_BESIDE: Final = {
    50: Known(
        "ring_material",
        "Material of the rings",
        "choice",
        "the same",
        tuple(f"{ROCKET}part[{each} ring].material" for each in RINGS),
        choices=tuple((key, key.replace("_", " ")) for key in library()),
        default="birch_plywood_4mm",
    ),
}
ASSUMED: Final = in_form(_BESIDE, assumed=True)
WORKED_OUT: Final = (
    Known("coupler_length", "Length of the coupler", "length", "two calibres",
          (ROCKET + "part[coupler].length",)),
    Known("motor_tube_length", "Length of the motor tube", "length",
          "0.3 m or the motor's, where there is room",
          (ROCKET + "part[motor tube].length",)),
    Known("canopy_lines", "Lines of the parachute", "words", "six, as long as it is wide",
          (ROCKET + "part[canopy].lines",)),
    Known("canopy_mass", "Mass of the parachute", "mass", "100 g at 1 m, by its area",
          (ROCKET + "part[canopy].mass",)),
    Known("cord_mass", "Mass of the cord and what hangs on it", "mass",
          "nylon by length and strength, and 60 g of links", (ROCKET + "part[cord].mass",)),
)  # fmt: skip
ABOUT: Final = (
    "What the first form assumed is listed on the ledger page, each with where to change it."
)


def own_words(project: Project) -> str:
    """How the builder describes the rocket; empty where only the first form has written there."""
    return "" if project.head.about == ABOUT else project.head.about


@dataclass(frozen=True)
class StillAssumed:
    """An assumption that stands in a file as it was made."""

    question: Known
    text: str

    @property
    def said(self) -> str:
        """As it is told: a choice in its words, a figure without saying that it is a guess."""
        return dict(self.question.choices).get(self.text, self.text.removesuffix(" guess"))


def still_assumed(project: Project) -> tuple[StillAssumed, ...]:
    """Return what the first form assumed and nobody has changed since; none of other projects."""
    if project.head.about != ABOUT:
        return ()
    found = []
    for each in (*ASSUMED, *WORKED_OUT):
        home = each.homes[0]
        try:
            entry = entry_in(project.texts[home.partition(":")[0]], home)
        except (SaveRefused, KeyError):
            continue  # the part or the plan has another name now
        text = str(entry).lower() if isinstance(entry, bool) else str(entry)
        taken = [one for one in (each.default, each.imperial) if one]
        made = {*taken, *(f"{one} guess" for one in taken)}
        known = text.endswith(" guess") or each.dimension == "words"
        if entry is not None and (text in made or (not made and known)):
            found.append(StillAssumed(each, text))
    return tuple(found)


def change_assumed(project: Project, key: str, text: str) -> Project:
    """Write a figure in the place of one that was assumed, wherever it stands.

    Raises
    ------
    SaveRefused - no such assumption, or a file changed on disk.
    QuantityError - nothing, or no figure of the wanted kind.
    ProjectErrors - the project would not be valid; nothing is written.
    """
    question = next((each for each in (*ASSUMED, *WORKED_OUT) if each.id == key), None)
    if question is None:
        raise SaveRefused("this is not assumed any more; nothing was written")
    said = check_known(question, text)
    if not said:
        raise QuantityError("nothing", question.prompt.lower(), "type it, then save")
    return answer(project, dict.fromkeys(question.homes, said))
