"""Answers of the studies, kept until the files or the settings change."""

import threading
from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import Any, Final, TypeVar

from goodflight.page.open_project import OpenProject
from goodflight.page.work import Progress
from goodflight.project.disk import digest
from goodflight.project.idea import Idea
from goodflight.studies.case.planned import Case
from goodflight.studies.levers.whatif import Tried, tried
from goodflight.studies.motor_results import DelayStudy
from goodflight.studies.questions.bands import Bands, bands_of
from goodflight.studies.questions.delay import acts, delay_of
from goodflight.studies.questions.fly import nominal_of
from goodflight.studies.questions.landings import Landings, landings_of
from goodflight.studies.questions.layout import Layout, layout_of
from goodflight.studies.questions.ledger import ledger_of
from goodflight.studies.questions.one_flight import OneFlight, one_flight
from goodflight.studies.questions.quick import QUICK_FLIGHTS, quick_rows
from goodflight.studies.questions.size import size
from goodflight.studies.results import FlightReport, Ledger
from goodflight.studies.sizing.results import SizeStudy
from goodflight.studies.sizing.searching import TRIES

T = TypeVar("T")
FULL_FLIGHTS: Final = 2000
DESIGN_FLIGHTS: Final = 900
KEPT: Final = 60
Settings = Mapping[str, str]


def _key(files: str, what: str, plan: str | None, settings: Settings) -> tuple[Any, ...]:
    return (what, files, plan, tuple(sorted(settings.items())))


@dataclass
class Answers:
    """Every question a page may ask, with what is kept of the answers.

    flights : simulated for a full answer.
    """

    store: OpenProject
    flights: int = FULL_FLIGHTS
    kept: OrderedDict[tuple[Any, ...], Any] = field(default_factory=OrderedDict)
    lock: threading.Lock = field(default_factory=threading.Lock)
    gates: dict[tuple[Any, ...], threading.Lock] = field(default_factory=dict)

    def _ask(
        self, files: str, what: str, plan: str | None, settings: Settings, act: Callable[[], T]
    ) -> T:
        key = _key(files, what, plan, settings)
        with self.lock:
            gate = self.gates.setdefault(key, threading.Lock())
        try:
            with gate:  # who asks the same meanwhile waits for this answer
                return self._kept_or(key, act)
        finally:
            with self.lock:
                self.gates.pop(key, None)

    def _kept_or(self, key: tuple[Any, ...], act: Callable[[], T]) -> T:
        with self.lock:
            if key in self.kept:
                self.kept.move_to_end(key)
                found: T = self.kept[key]
                return found
        answer = act()
        with self.lock:
            self.kept[key] = answer
            while len(self.kept) > KEPT:
                self.kept.popitem(last=False)
        return answer

    def _now(self, plan: str | None, settings: Settings) -> tuple[str, Tried]:
        """What is tried, and the hash of the files it was read from.

        Its answers are kept under that hash, not under that of files changed in the meantime.
        """
        files, case = self.store.case_now(plan)
        return files, self._ask(files, "tried", plan, settings, lambda: tried(case, settings))

    def _tried_in(
        self, what: str, plan: str | None, settings: Settings, act: Callable[[Case], T]
    ) -> T:
        """What a study says of the planned flight with settings tried on it."""
        files, now = self._now(plan, settings)
        return self._ask(files, what, plan, settings, lambda: act(now.case))

    def of_project(
        self, files: str, what: str, plan: str | None, act: Callable[[], T], **asked: str
    ) -> T:
        """What a study says of the project as it stands, kept under the hash of its files."""
        return self._ask(files, what, plan, asked, act)

    def known(self, what: str, plan: str | None, settings: Settings) -> Any:
        """An answer that is there already, or None."""
        key = _key(self.store.hash, what, plan, settings)
        with self.lock:
            return self.kept.get(key)

    def tried(self, plan: str | None, settings: Settings) -> Tried:
        """The planned flight with settings tried on it."""
        return self._now(plan, settings)[1]

    def first(self, plan: str | None) -> Ledger:
        """A ledger of few flights as planned, the base that quick answers are written into."""
        files, case = self.store.case_now(plan)
        return self._ask(
            files, "first", plan, {}, lambda: ledger_of(case, QUICK_FLIGHTS, remedies=False)
        )

    def quick(self, plan: str | None, settings: Settings, flights: int = QUICK_FLIGHTS) -> Ledger:
        """Few flights of what is being tried, in the words of the fullest ledger as planned."""
        words = self.known("full", plan, {}) or self.first(plan)
        files, now = self._now(plan, settings)
        return self._ask(
            files, f"quick {flights}", plan, settings, lambda: quick_rows(now.case, words, flights)
        )

    def full(self, plan: str | None, settings: Settings, tell: Progress | None = None) -> Ledger:
        """All flights, with drivers and remedies."""
        files, case = self.store.case_now(plan)
        return self._ask(
            files,
            "full",
            plan,
            settings,
            lambda: ledger_of(case, self.flights, progress=tell, settings=settings),
        )

    def best_known(self, plan: str | None, settings: Settings) -> tuple[Ledger, bool]:
        """The fullest ledger there is at once, and whether it is the full one."""
        found = self.known("full", plan, settings)
        return (found, True) if found is not None else (self.quick(plan, settings), False)

    def before(self, plan: str | None, settings: Settings, now: Ledger) -> Ledger | None:
        """The ledger as planned on the same flights as `now`; None when nothing is tried."""
        if not self.tried(plan, settings).changed:
            return None
        if now.flights == self.flights:
            return self.full(plan, {})
        return self.quick(plan, {}, now.flights)

    def layout(self, plan: str | None, settings: Settings) -> Layout:
        """Where everything is."""
        return self._tried_in("layout", plan, settings, layout_of)

    def nominal(self, plan: str | None, settings: Settings) -> FlightReport:
        """The middle flight."""
        return self._tried_in("nominal", plan, settings, nominal_of)

    def bands(self, plan: str | None, settings: Settings, tell: Progress | None = None) -> Bands:
        """Single flights and their bands."""
        act = partial(bands_of, sample=self.flights, progress=tell)
        return self._tried_in("bands", plan, settings, act)

    def landings(
        self, plan: str | None, settings: Settings, tell: Progress | None = None
    ) -> Landings:
        """Where it comes down."""
        act = partial(landings_of, sample=self.flights, progress=tell)
        return self._tried_in("landings", plan, settings, act)

    def one_flight(self, plan: str | None, settings: Settings, number: int) -> OneFlight:
        """One flight of the full ledger's sample, flown by itself."""
        act = partial(one_flight, number=number, sample=self.flights)
        return self._tried_in(f"flight {number}", plan, settings, act)

    def designs(self, idea: Idea, tell: Progress | None = None) -> SizeStudy:
        """Whole designs for an idea; a server of fewer flights tries fewer designs, too."""
        share = min(1.0, self.flights / FULL_FLIGHTS)
        tries = max(5, round(TRIES * share))
        texts = digest(
            "\n".join([idea.text, *(f"{k} {v}" for k, v in sorted(idea.beside.items()))])
        )
        return self._ask(
            texts,
            "designs",
            None,
            {},
            lambda: size(idea, round(DESIGN_FLIGHTS * share), 1, tell, tries),
        )

    def delays(
        self, plan: str | None, settings: Settings, tell: Progress | None = None
    ) -> DelayStudy | None:
        """Every delay the motor allows; None where none fires the charge."""
        files, now = self._now(plan, settings)
        if not acts(now.case):
            return None
        return self._ask(
            files,
            "delays",
            plan,
            settings,
            lambda: delay_of(now.case, self.flights, progress=tell),
        )
