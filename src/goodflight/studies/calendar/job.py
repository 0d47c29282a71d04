"""One thing to be done at the bench, as the calendar plans it."""

from dataclasses import dataclass

from goodflight.studies.calendar.places import Cure


@dataclass(frozen=True)
class Job:
    """One step of the build that is still to be done."""

    key: str
    title: str
    minutes: float
    minutes_sigma: float = 0.0  # as a share
    guessed: bool = True  # a guess of the time; all guesses are off together too
    after: tuple[str, ...] = ()
    waits_cured: bool = False  # until what it builds on has cured in full
    either: tuple[tuple[str, ...], ...] = ()  # of each, at least one comes later
    cure: Cure | None = None
    cure_sigma: float = 0.0  # of the activation energy, as a share
    places: tuple[str, ...] = ()
    parcels: tuple[str, ...] = ()
    no_return: bool = False
    may_be_cut: bool = False
    without: tuple[str, ...] = ()  # what the files hold where it is left out
    recoat_h: float | None = None  # the next coat within that of its sitting's end
    coat_of: str = ""  # key of the step that this is one sitting of
    sprayed: bool = False  # paint: not moved into a heated room
