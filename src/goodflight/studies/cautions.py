"""Every caution, once: terminal, page, paper and JSON take their words from this list.

Cautions are reminders, not instructions: the local code, the motor maker's sheet, the glue's own
sheet and the range safety officer decide.
"""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Final

WHO_DECIDES: Final = "The local code, the motor maker's sheet and the range safety officer decide."


@dataclass(frozen=True)
class Caution:
    """A caution by its key: a short title, and what to do."""

    key: str
    title: str
    words: str


_ALL: Final = (
    Caution(
        "powder", "Black powder",
        "Handle black powder only where the law and the site allow it, and only if you are "
        "permitted to. After every change of powder or packing make the ground test again: stand "
        "clear, nobody in line with the nose or the tail, wear eye protection. Never lean over a "
        "loaded charge or point it at anyone.",
    ),
    Caution(
        "motor", "Motors",
        "Assemble and keep motors as the maker's sheet and the local code say, away from flames "
        "and heat. The igniter goes in at the pad, last of all. Fly only motors that the field and "
        "your certificate allow.",
    ),
    Caution(
        "delay", "Shortening a delay",
        "Only with the maker's own tool and by the maker's sheet; not every motor may be drilled, "
        "and never deeper than the sheet allows. What is taken out cannot be put back. No flame or "
        "spark near, no power tool.",
    ),
    Caution(
        "switches", "Electronics that fire a charge",
        "Arm only when the rocket stands upright on the rail, everybody else clear. After landing "
        "disarm first, before anything is touched. A charge that did not fire is still live.",
    ),
    Caution(
        "misfire", "Misfire",
        "Wait at least one minute, or what the local code says, before anyone goes to the pad. "
        "Disconnect the launch system and disarm electronics first. Pull the igniter before "
        "anything else.",
    ),
    Caution(
        "landed", "After landing",
        "A charge may still be live: disarm, keep faces and hands away from both ends. Hot motor "
        "case. Never climb for a rocket and never touch one that hangs in a power line.",
    ),
    Caution(
        "cells", "Cells and batteries",
        "Spare cells carried loose short-circuit: keep each in a case or with its contacts taped. "
        "Charge lithium cells attended, on something that does not burn.",
    ),
    Caution(
        "warm_cure", "Heat for curing",
        "Heat is attended, below what the label, paint and motor tube stand, and away from "
        "solvents and paper. No open flame, no unattended heater under a cover.",
    ),
    Caution(
        "epoxy", "Epoxy",
        "Nitrile gloves, fresh air, no food at the bench. Wash skin with soap, not with solvent. A "
        "large mixed pot gets hot: mix little. Cold glue does not cure: keep to the temperature on "
        "its label.",
    ),
    Caution(
        "thin_glue", "Thin fast glue",
        "It runs and bonds skin in seconds, its fumes sting, and on cloth or cotton it gets hot "
        "enough to burn: eye protection, fresh air, no cotton gloves.",
    ),
    Caution(
        "paint", "Solvents and paint",
        "Outdoors or well aired, no flame or spark, mask for vapours. Spread rags out in the open "
        "to dry.",
    ),
    Caution(
        "dust", "Dust",
        "Glass cloth, carbon and cured epoxy: mask (P2 or better), wet sanding, vacuum instead of "
        "sweeping. Wood dust likewise.",
    ),
    Caution(
        "blade", "Blades and drills",
        "Fresh blade, several light cuts, hand behind the edge, work clamped. Eye protection at "
        "drill and saw; no loose sleeves or gloves at a turning drill.",
    ),
)  # fmt: skip
CAUTIONS: Final = {caution.key: caution for caution in _ALL}
if len(CAUTIONS) != len(_ALL):
    raise RuntimeError("two cautions share a key")


def caution(key: str) -> str:
    """One caution as a sentence: "Dust: glass cloth, ..."; a key that is none is a KeyError."""
    found = CAUTIONS[key]
    return f"{found.title}: {found.words[0].lower()}{found.words[1:]}"


def cautions_of(keys: Iterable[str]) -> tuple[str, ...]:
    """Cautions by their keys, each once, the empty key left out."""
    return tuple(caution(key) for key in dict.fromkeys(keys) if key)
