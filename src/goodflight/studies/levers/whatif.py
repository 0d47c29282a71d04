"""What if: settings tried on a planned flight, and the case they make.

A setting is a mapping from control to option; what is not in it stays as planned. The setting
`also` names further changes by the keys the remedies have, tried after the controls, one after
the other; where two of them write the same entry, the later one holds, and a moved control before
both.
"""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from goodflight.studies.case.planned import Case
from goodflight.studies.levers.changes import Change, changes_of, nearest_delay_out_s
from goodflight.studies.levers.controls import MAKERS
from goodflight.studies.levers.option import Control, Write
from goodflight.studies.refusal import StudyRefused

ALSO: Final = "also"
SETTINGS: Final = (*MAKERS, ALSO)  # every name a setting may have
MOST_ALSO: Final = 12  # further changes at once
_PART: Final = "rocket.toml:part"  # a write to it adds a part; all others set an entry


@dataclass(frozen=True)
class Also:
    """A further change that is tried: its key, in words, and the setting without it."""

    key: str
    title: str
    without: str


@dataclass(frozen=True)
class Tried:
    """A case with settings tried on it, and what keeping them would write."""

    case: Case
    controls: tuple[Control, ...]  # as they stand now; options of the delay follow the motor
    chosen: Mapping[str, str]  # control -> option, everything
    changed: tuple[str, ...]  # controls that differ from the project, and keys of further changes
    writes: tuple[Write, ...]
    also: tuple[Also, ...] = ()

    @property
    def words(self) -> tuple[str, ...]:
        """What is tried, in words: labels of controls, titles of further changes."""
        labels = (c.label for c in self.controls if c.key in self.changed)
        return (*labels, *(each.title for each in self.also))


def tried(case: Case, settings: Mapping[str, str]) -> Tried:
    """Try settings on a planned flight.

    Parameters
        case : Case - as planned. [SI]
        settings : mapping - option id by control key; keys left out stay as planned. [-]
    Returns
        tried : Tried - the changed case, the controls, what would be written. [-]
    Raises
        StudyRefused - no such control, option or change; changes that exclude each other.
    Validity
        Ballast is a point mass in the nose; lengths of the rocket stay as they are.
    Source
        The same changes that the remedies fly.
    """
    unknown = sorted(set(settings) - set(SETTINGS))
    if unknown:
        raise StudyRefused(
            f"no control named {unknown[0]!r}", f"one of {', '.join(SETTINGS)}", "take one of them"
        )
    now, controls, writes = case, [], list[Write]()
    chosen, changed = {}, []
    for key, (make, change) in MAKERS.items():
        control = make(case, now)
        if control is None:
            continue
        picked = control.option(_settled(control, settings.get(key), key, case, now))
        controls.append(control)
        chosen[key] = picked.id
        if picked.id != control.now:
            now = change(now, picked)
            changed.append(key)
            writes += picked.writes
    taken = {path for path, _ in writes if path != _PART}
    further = _further(now, _left(case, taken, _keys(settings.get(ALSO, ""))))
    also = _also(further)
    return Tried(
        further[-1].case if further else now, tuple(controls), chosen,
        (*changed, *(each.key for each in also)),
        _last_of_each([*writes, *(write for each in further for write in each.writes)]), also,
    )  # fmt: skip


def _also(further: Sequence[Change]) -> tuple[Also, ...]:
    """The further changes that hold; one that a later one writes over goes with that one."""
    shown, keys = list[Also](), [each.key for each in further]
    covered: dict[str, set[str]] = {}
    for place, change in enumerate(further):
        covered[change.key] = {change.key}
        for each in further[:place]:
            if _paths(each) & _paths(change):
                covered[change.key] |= covered[each.key]
    over = {key for name, keys_ in covered.items() for key in keys_ if key != name}
    for change in further:
        if change.key not in over:
            left = ",".join(key for key in keys if key not in covered[change.key])
            shown.append(Also(change.key, change.title, left))
    return tuple(shown)


def _keys(text: str) -> list[str]:
    """The keys of further changes, each once, the order kept."""
    keys = list(dict.fromkeys(key for key in (part.strip() for part in text.split(",")) if key))
    if len(keys) > MOST_ALSO:
        raise StudyRefused(
            f"{len(keys)} further changes at once", f"{MOST_ALSO} or fewer",
            "keep some of them first", ALSO,
        )  # fmt: skip
    return keys


def _left(planned: Case, taken: set[str], keys: Sequence[str]) -> list[str]:
    """The keys without those of changes whose entries a moved control has taken over."""
    if not taken or not keys:
        return list(keys)
    over = {change.key for change in changes_of(planned) if _paths(change) & taken}
    return [key for key in keys if key not in over]


def _further(start: Case, keys: Sequence[str]) -> list[Change]:
    """The further changes, each made on the case that the ones before have made."""
    now, made = start, list[Change]()
    for key in keys:
        found = _by_key(now, key)
        if found is None:
            alone = _by_key(start, key)
            if alone is None:
                raise _no_such(start, key)
            rivals = {each.key for each in made if _paths(each) & _paths(alone)}
            if not rivals:
                others = " and ".join(each.title for each in made)
                raise StudyRefused(
                    f"{alone.title!r} cannot be tried together with {others!r}",
                    "one of them", "drop the other first", ALSO,
                )  # fmt: skip
            return _further(start, [each for each in keys if each not in rivals])
        made.append(found)
        now = found.case
    return made


def _by_key(case: Case, key: str) -> Change | None:
    return next((change for change in changes_of(case) if change.key == key), None)


def _paths(change: Change) -> set[str]:
    return {path for path, _ in change.writes if path != _PART}


def _no_such(case: Case, key: str) -> StudyRefused:
    count = len(changes_of(case))
    return StudyRefused(
        f"no change named {key!r} here", f"one of the {count} that this flight offers now",
        "open the ledger and try one from there", ALSO,
    )  # fmt: skip


def _last_of_each(writes: Sequence[Write]) -> tuple[Write, ...]:
    """The writes, of those to one entry the last; added parts all stay."""
    last = {path: place for place, (path, _) in enumerate(writes)}
    return tuple(w for place, w in enumerate(writes) if w[0] == _PART or last[w[0]] == place)


def _settled(control: Control, wanted: str | None, key: str, case: Case, now: Case) -> str:
    """The option in force: as asked, or as planned, or the nearest cut after a motor change."""
    if wanted is not None and (key != "delay_out" or any(o.id == wanted for o in control.options)):
        return wanted
    if key == "delay_out" and (wanted is not None or now.motor.name != case.motor.name):
        return f"{nearest_delay_out_s(now):g}"
    return control.now


def settings_for(controls: Sequence[Control], writes: Sequence[Write]) -> dict[str, str] | None:
    """Find the settings that do what a remedy would write; None when no control can.

    Parameters
        controls : sequence of Control - as `tried` gives them. [-]
        writes : sequence - project path and text, of a remedy. [-]
    Returns
        settings : dict or None - option id by control key. [-]
    """
    found: dict[str, str] = {}
    for write in writes:
        match = next(
            (
                (control.key, option.id)
                for control in controls
                for option in control.options
                if any(_same(write, own) for own in option.writes)
            ),
            None,
        )
        if match is None:
            return None
        found[match[0]] = match[1]
    return found or None


def _same(one: Write, other: Write) -> bool:
    """Whether two writes do the same, however the figure is known."""
    plain = [re.sub(r" (guess|label|measured)\b", "", text) for _, text in (one, other)]
    return one[0] == other[0] and plain[0] == plain[1]


def way_to_try(
    trial: Tried, settings: Mapping[str, str], key: str, writes: Sequence[Write]
) -> dict[str, str]:
    """The settings with a remedy tried as well: by a control where one does it, else by its key.

    Parameters
        trial : Tried - what is tried already. [-]
        settings : mapping - the settings of that trial. [-]
        key : str - of the remedy. [-]
        writes : sequence - project path and text, of the remedy. [-]
    Returns
        settings : dict - to be given to `tried` for the same planned flight. [-]
    """
    found = settings_for(trial.controls, writes)
    if found and any(trial.chosen[control] != option for control, option in found.items()):
        return {**settings, **found}
    keys = [each.key for each in trial.also if each.key != key]
    return {**settings, ALSO: ",".join([*keys, key])}
