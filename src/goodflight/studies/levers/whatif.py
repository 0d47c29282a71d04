"""What if: settings tried on a planned flight, and the case they make.

Settings are a mapping from lever to the id of one of its settings; what is not in it stays as
planned. Levers are set in the order in which they are declared; where two write the same entry, the
later one holds.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Final

from goodflight.quantity.said import Said, literal, said
from goodflight.studies.case.planned import Case
from goodflight.studies.levers import BY_KEY, LEVERS, Lever, Offer, Setting, Write
from goodflight.studies.levers.lever import identity
from goodflight.studies.levers.motor import nearest_delay_out_s
from goodflight.studies.refusal import StudyRefused
from goodflight.studies.results import Cost

KEYS: Final = tuple(BY_KEY)  # every name a setting may have
_PART: Final = "rocket.toml:part"  # a write to it adds a part; all others set an entry


@dataclass(frozen=True)
class Control:
    """A lever as it stands on one flight: what it offers, and which setting is in force.

    on : the flight that it is set on, with the settings of the levers before it.
    """

    lever: Lever
    offer: Offer
    chosen: Setting
    on: Case

    @property
    def key(self) -> str:
        """Its lever's key."""
        return self.lever.key

    @property
    def label(self) -> str:
        """What it is called here."""
        return self.offer.label or self.lever.label

    @property
    def changed(self) -> bool:
        """Whether another setting is tried than the project has."""
        return self.chosen.id != self.offer.now

    @property
    def planned(self) -> Setting:
        """The setting that the project has."""
        return self.offer.setting(self.offer.now, self.key, self.label)


@dataclass(frozen=True)
class Change:
    """One setting more on what is tried already: what a remedy flies.

    settings : everything that is then set, by lever. on : the flight that it is set on, with the
    settings of the levers before it.
    """

    lever: Lever
    setting: Setting
    planned: Case
    settings: Mapping[str, str]
    on: Case

    @property
    def key(self) -> str:
        """Lever and setting in one word."""
        return f"{self.lever.key}={self.setting.id}"

    @cached_property
    def case(self) -> Case:
        """The flight with it."""
        if len(self.settings) == 1:  # what the setting was offered for
            return self.setting.make(self.planned)
        return _with(self.planned, self.setting.make(self.on), self.settings, self.lever)

    @property
    def cost(self) -> Cost:
        """What it costs."""
        return self.lever.cost if self.setting.cost is None else self.setting.cost

    @property
    def note(self) -> str:
        """More on the cost."""
        return self.lever.note if self.setting.note is None else self.setting.note


@dataclass(frozen=True)
class Tried:
    """A case with settings tried on it, and what keeping them would write."""

    planned: Case
    case: Case
    controls: tuple[Control, ...]  # as they stand now; those of the delay follow the motor
    writes: tuple[Write, ...]

    @property
    def sliders(self) -> tuple[Control, ...]:
        """What is always shown among the controls."""
        return tuple(each for each in self.controls if each.lever.slider)

    @property
    def also(self) -> tuple[Control, ...]:
        """What is tried beside them."""
        return tuple(each for each in self.controls if each.changed and not each.lever.slider)

    @property
    def changed(self) -> tuple[str, ...]:
        """Levers that stand differently from the project."""
        return tuple(each.key for each in self.controls if each.changed)

    @property
    def chosen(self) -> Mapping[str, str]:
        """The setting in force of every lever there is here."""
        return {each.key: each.chosen.id for each in self.controls}

    @property
    def settings(self) -> dict[str, str]:
        """The settings that differ from the project."""
        return {each.key: each.chosen.id for each in self.controls if each.changed}

    @property
    def ladders(self) -> tuple[tuple[Change, ...], ...]:
        """Every way to go on with a lever from what is tried, the least change first."""
        return tuple(
            tuple(self._change(each, wanted) for wanted in way)
            for each in self.controls
            for way in each.offer.ways(each.chosen.id)
        )

    @property
    def changes(self) -> tuple[Change, ...]:
        """Every setting more that a remedy may have."""
        return tuple(change for ladder in self.ladders for change in ladder)

    def _change(self, control: Control, wanted: str) -> Change:
        setting = control.offer.setting(wanted, control.key, control.label)
        if wanted == control.offer.now:
            setting = replace(setting, make=identity)
        settings = {**self.settings, control.key: wanted}
        return Change(control.lever, setting, self.planned, settings, control.on)

    @property
    def words(self) -> tuple[Said, ...]:
        """What is tried, in words: labels of sliders, else what to do."""
        return tuple(
            said(literal(each.label)) if each.lever.slider else each.chosen.title
            for each in self.controls
            if each.changed
        )


def tried(case: Case, settings: Mapping[str, str]) -> Tried:
    """Try settings on a planned flight.

    Parameters
        case : Case - as planned. [SI]
        settings : mapping - setting id by lever; levers left out stay as planned. [-]
    Returns
        tried : Tried - the changed case, the controls, what would be written. [-]
    Raises
        StudyRefused - no such lever, or no such setting of it.
    Validity
        Ballast is a point mass in the nose; lengths of the rocket stay as they are.
    Source
        The same settings that the remedies fly.
    """
    unknown = sorted(set(settings) - set(KEYS))
    if unknown:
        raise StudyRefused(
            f"nothing to change is named {unknown[0]!r}",
            f"one of {', '.join(KEYS)}",
            "take one of them",
        )
    now, controls, writes = case, list[Control](), list[Write]()
    for lever in LEVERS:
        control = _control(lever, case, now, settings.get(lever.key))
        if control is None:
            continue
        controls.append(control)
        if control.changed:
            now = control.chosen.make(now)
            writes += control.chosen.writes
    return Tried(case, now, tuple(controls), _last_of_each(writes))


def applied(case: Case, settings: Mapping[str, str]) -> Case:
    """The flight with settings that are known to be offered, as `tried` has it: but quicker."""
    return _with(case, case, settings)


def _with(case: Case, now: Case, settings: Mapping[str, str], after: Lever | None = None) -> Case:
    """A flight with the settings of the levers that stand after one, or of all."""
    for lever in LEVERS[0 if after is None else LEVERS.index(after) + 1 :]:
        if lever.key not in settings and not _follows(lever, case, now):
            continue
        control = _control(lever, case, now, settings.get(lever.key))
        if control is not None and control.changed:
            now = control.chosen.make(now)
    return now


def _control(lever: Lever, case: Case, now: Case, wanted: str | None) -> Control | None:
    offer = lever.offer(case, now)
    if offer is None:
        if wanted is None:
            return None
        raise StudyRefused(
            f"{lever.label!r} cannot be changed on this flight",
            "what the ledger offers",
            "open the ledger and try one from there",
            lever.key,
        )
    asked = _settled(lever, offer, wanted, case, now)
    return Control(lever, offer, offer.setting(asked, lever.key, lever.label), now)


def _settled(lever: Lever, offer: Offer, wanted: str | None, case: Case, now: Case) -> str:
    """The setting in force: as asked, or as planned, or the nearest cut after a motor change."""
    there = {each.id for each in offer.settings}
    if _follows(lever, case, now) and wanted not in there:
        return f"{nearest_delay_out_s(now):g}"
    return offer.now if wanted is None else wanted


def _follows(lever: Lever, case: Case, now: Case) -> bool:
    """Whether a lever stands otherwise because another one was set: the delay, on another motor."""
    return lever.key == "delay_out" and now.motor.name != case.motor.name


def _last_of_each(writes: Sequence[Write]) -> tuple[Write, ...]:
    """The writes, of those to one entry the last; added parts all stay."""
    last = {path: place for place, (path, _) in enumerate(writes)}
    return tuple(w for place, w in enumerate(writes) if w[0] == _PART or last[w[0]] == place)
