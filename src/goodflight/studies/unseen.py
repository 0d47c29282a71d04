"""What no calculation sees: each thing with the check that prevents it, and a rate if published.

One list: terminal, page, paper and JSON take it from here. A rate is somebody else's, of other
crews and rockets; it stands beside the computed chance and is never part of it.
"""

from dataclasses import dataclass
from typing import Annotated, Final

from goodflight.physics.people import OMITTED, READER_MISSES, left_out, missed_by_friend
from goodflight.physics.sources import cited


@dataclass(frozen=True)
class Unseen:
    """One thing that goes wrong and that no figure of a project shows."""

    key: Annotated[str, "name of the thing"]
    title: Annotated[str, "what goes wrong"]
    check: Annotated[str, "what prevents it"]
    rate: Annotated[float | None, "how often elsewhere, 0 to 1; null = no figure"] = None
    low: Annotated[float | None, "lower end of its range"] = None
    high: Annotated[float | None, "upper end of its range"] = None
    counted: Annotated[str, "what was counted"] = ""
    source: Annotated[str, "key in docs/bibliography.md; empty = none"] = ""

    @property
    def words(self) -> str:
        """The rate in words, with what was counted and the source."""
        if self.rate is None:
            return "no figure"
        ends = f" ({_in_100(self.low)} to {_in_100(self.high)})"
        return f"{_in_100(self.rate)}{ends} in 100 {self.counted}; {cited(self.source)}"


def _in_100(share: float | None) -> str:
    return f"{100 * (share or 0.0):.2g}"


_FLIGHTS: Final = "student flights of 2018 (44, dual deployment, mentored)"
UNSEEN: Final = (
    Unseen("tangle", "canopy tangles or stays trapped",
           "fold it with the lines straight and outside the cloth; pull it out of the tube once "
           "by hand: nothing may hook or follow", 0.114, 0.050, high=0.240, counted=_FLIGHTS,
           source="studentlaunch2018"),
    Unseen("link", "quick link left open",
           "close every link, screw its sleeve tight, tug it; count them aloud",
           0.001, 0.0003, high=0.003, counted="items of a short list that is ticked",
           source="swain1983"),
    Unseen("burnt_cord", "cord or canopy burnt by the charge",
           "heat-proof leader at the charge, blanket closed round the canopy, both looked at after "
           "every flight"),
    Unseen("cocked", "separation cocked or swollen",
           "turn and pull it at the pad: it must slide as it did at home, in that day's damp"),
    Unseen("nose_loop", "loop or eye torn off the nose",
           "pull each anchor by hand as hard as you can; look for cracks round the plate"),
    Unseen("button", "rail guide jams or tears off",
           "slide the rocket along the whole rail by hand; both guides tight and in one line"),
    Unseen("folds", "body folds at a coupler in flight",
           "a calibre of coupler in each tube; hold both ends and bend: no play, no gap opens"),
    Unseen("ignition", "motor chuffs or lights slowly",
           "igniter at the front of the grain, held, its resistance measured; stand by the wait "
           "for a misfire"),
    Unseen("burst", "motor bursts",
           "assemble by the maker's sheet, seals greased and counted; a second person reads it",
           0.0, 0.0, high=0.080, counted=_FLIGHTS, source="studentlaunch2018"),
    Unseen("slip", "a step is forgotten (charge, switch, igniter)",
           "read the list aloud and tick each item; nobody talks to the one who packs",
           0.02, 0.007, high=0.045, counted="routine tasks by hand, without a list",
           source="williams1988"),
    Unseen("dragged", "dragged over the ground after landing",
           "someone ready downwind to catch the canopy; no launch in wind that you cannot run in"),
    Unseen("trees_lines", "trees, water or power lines that no map of the field shows",
           "walk the downwind side before; never climb, never touch a rocket in a line"),
    Unseen("lost", "lost from sight",
           "two observers with a bearing each, a bright canopy, a beacon where it is allowed"),
)  # fmt: skip
if len({each.key for each in UNSEEN}) != len(UNSEEN):
    raise RuntimeError("two unseen things share a key")


def second_reader(items: int = len(UNSEEN)) -> str:
    """What a second person who reads this list is worth, in one sentence with its sources."""
    once = left_out(OMITTED[0], items)
    missed = missed_by_friend(READER_MISSES)
    twice = left_out(OMITTED[0] * missed, items)
    return (
        f"A second person who reads the list aloud misses about {100 * missed:.0f} in 100 of what "
        f"the first left out (a friend of the same crew; {100 * READER_MISSES:.0f} on their own): "
        f"of {items} items ticked at {OMITTED[0]:g} each, at least one is left out in about "
        f"{100 * once:.1f} of 100 packings alone and {100 * twice:.1f} with the reader "
        f"({cited('swain1983')}). Independent checkers found 95 in 100 planted errors "
        f"({cited('grasha2003')})."
    )


HEAD: Final = "What no calculation sees: apart from every chance above, never part of it"
