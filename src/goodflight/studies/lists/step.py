"""What one line of a checklist is: read aloud by one person, done and answered by another."""

from dataclasses import dataclass
from typing import Final, Literal

ListKey = Literal["home", "prepare", "motor", "pad", "misfire", "landed"]
Doer = Literal["builder", "helper", "both", "watchers", "launch crew"]
Fact = Literal[
    "delay",
    "altimeter",
    "two_canopies",
    "powder",
    "switched",
    "records",
    "pins",
    "no_pins",
    "shortened",
    "as_sold",
    "ballast",
    "blanket",
    "wadding",
    "vents",
]
LISTS: Final[dict[ListKey, tuple[str, str]]] = {  # title, when
    "home": ("At home", "the evening before"),
    "prepare": ("Preparation", "on the field, not before: a packed canopy takes a set"),
    "motor": ("Motor and charges", "away from flames, the maker's sheet open"),
    "pad": ("Pad order", "from the table to the launch"),
    "misfire": ("Misfire", "it did not start"),
    "landed": ("After the flight", "from touch-down to the signature"),
}
BLANK: Final = "______"


@dataclass(frozen=True)
class ListStep:
    """One line of a checklist.

    call : what the reader reads. reply : what the doer answers once it is done and true; {name}
    stands for a figure of the flight, a blank where it is not known. prevents : keys of rows, or of
    what no calculation sees. when : facts of the rocket that must hold. kill : a flight is lost
    when this alone is left out: the second reader looks at it too. caution : key of a caution.
    """

    on: ListKey
    key: str
    call: str
    reply: str
    prevents: tuple[str, ...]
    when: tuple[Fact, ...] = ()
    kill: bool = False
    does: Doer = "builder"
    caution: str = ""
