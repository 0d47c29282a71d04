"""Rows of electronics and camera: do they still run when it matters."""

from dataclasses import replace

import numpy as np

from goodflight.physics.flight.registry import BY_ALTIMETER
from goodflight.physics.power import FREEZING_K, ROOM_K, cold_run_s
from goodflight.physics.sources import Constant
from goodflight.studies.asking import asked, choice, entry, together, words
from goodflight.studies.case.workshop import Device
from goodflight.studies.rows.model import Array, Evaluation, LimitState, Missing, View
from goodflight.studies.sampling import air, electronics

_RUN = "run it from full to flat with a clock beside it"
NO_DEVICE = choice(
    "rocket.toml:device[+].kind",
    "or nothing on board runs on a battery",
    "look for any",
    [("none", "there is none")],
)
_NAMED = words("rocket.toml:device[+].name", "battery-run device", "what it is", "altimeter")
_TIMED = entry(
    "rocket.toml:device[+].run_time",
    "run time of its battery",
    how=_RUN,
    dimension="time",
    instrument="clock",
    minutes=10.0,
)
_NO_ALTIMETER = asked(
    "an altimeter opens the parachute, and the rocket is said to carry no device: enter the "
    "altimeter with its run time",
    _NAMED,
    _TIMED,
)
_NO_DEVICES = asked(
    "enter each battery-run device with its run time (and how long it records, for a camera), or "
    "that there is none",
    _NAMED,
    _TIMED,
    entry(
        "rocket.toml:device[+].recording",
        "how long it records (camera or logger; else empty)",
        how="from its sheet, or until the card is full",
        dimension="time",
        instrument="clock",
        minutes=5.0,
    ),
    NO_DEVICE,
)


Lasts = tuple[Array, Array]  # of a device: how long it has to last, and how long it does
RESERVE = 2.0  # times the wait that is expected


def _flight_s(view: View) -> Array:
    flight = view.outcome("landing_s")
    return np.where(np.isfinite(flight), flight, 0.0)


def _needed_s(view: View) -> Array | Missing:
    wait = view.stated(electronics.pad_wait)
    return wait if isinstance(wait, Missing) else wait + _flight_s(view)


def _runs_s(view: View, device: Device, run_s: float) -> Array:
    """Run time in the cold: the share lost grows evenly from 20 degC down."""
    cell = view.parameter("ground_temperature_k")
    if device.temperature_k is not None:
        cell = np.full(view.count, device.temperature_k)
    lost = device.cold_loss * view.of(electronics.cold_loss)
    return cold_run_s(run_s, cell, lost, view.of(electronics.battery_life))


def _real(view: View) -> list[Device]:
    return [device for device in view.case.deployment.devices if device.on_board]


def _first(view: View, lasting: list[Lasts], lacks: Missing | None) -> Evaluation | Missing:
    """The device that stops first; not known while one says nothing.

    Where what is told stops too soon on most flights already, that stands: a device that says
    nothing could only add to it.
    """
    if lasting:
        needed, lasts = (np.stack(side) for side in zip(*lasting, strict=True))
        first = np.argmin(lasts - needed, axis=0), np.arange(view.count)
        found = Evaluation(needed[first], lasts[first])
        if lacks is None or 2 * (found.demand > found.capacity).sum() > view.count:
            return found
    return lacks or _NO_DEVICES


def _battery(view: View) -> Evaluation | Missing:
    needed, devices = _needed_s(view), _real(view)
    if not view.case.deployment.devices:
        return together(_NO_DEVICES, needed) or _NO_DEVICES
    if not devices and view.case.deployment.by == BY_ALTIMETER:
        return together(_NO_ALTIMETER, needed) or _NO_ALTIMETER
    if not devices:
        return Evaluation(np.zeros(view.count), np.ones(view.count))
    lasting: list[Lasts] = []
    if not isinstance(needed, Missing):
        runs = (_runs_s(view, each, each.run_s) for each in devices if each.run_s is not None)
        lasting = [(needed, run) for run in runs]
    return _first(view, lasting, together(*map(_untimed, devices), needed))


def _reserve(view: View) -> Evaluation | Missing:
    """The queue grows: twice the wait, against the same run time."""
    found, wait = _battery(view), view.given(electronics.pad_wait)
    if isinstance(found, Missing) or wait is None or not _real(view):
        return found
    return Evaluation(RESERVE * wait, found.capacity)


def _untimed(device: Device) -> Missing | None:
    """What a device without a run time waits for."""
    if device.run_s is not None:
        return None
    return asked(
        f"time how long a full battery of {device.name} lasts at home and enter it",
        entry(
            f"rocket.toml:device[{device.name}].run_time",
            f"run time of {device.name}",
            how=_RUN,
            dimension="time",
            instrument="clock",
            minutes=10.0,
        ),
    )


def _unrecorded(devices: list[Device]) -> Missing:
    """What waits where devices do not say how long they record."""
    asks = []
    for device in devices:
        at, how = f"rocket.toml:device[{device.name}]", "from its sheet, or until the card is full"
        asks += [
            entry(
                f"{at}.recording",
                f"how long {device.name} records",
                how=how,
                dimension="time",
                instrument="clock",
                minutes=5.0,
            ),
            choice(
                f"{at}.kind",
                f"or {device.name} records nothing that must come back",
                "look on its sheet",
                [("no_recorder", "it records nothing that must come back")],
            ),
        ]
    return asked(
        "say how long each device on board records, or that it records nothing that must come back",
        *asks,
    )


def _recording(view: View) -> Evaluation | Missing:
    """Each device for itself: an hour of a camera says nothing of what the logger keeps.

    A device is taken to record what must come back, as loggers, altimeters and cameras do, until
    it says that it does not; a camera that may stop early is told so too.
    """
    if not view.case.deployment.devices:
        return together(_NO_DEVICES, _needed_s(view)) or _NO_DEVICES
    recorders = [each for each in _real(view) if each.records]
    if not recorders:
        return Evaluation(np.zeros(view.count), np.ones(view.count))
    needed = [_recorded_s(view, each) for each in recorders]
    lasting = [
        (need, np.full(view.count, each.recording_s))
        for need, each in zip(needed, recorders, strict=True)
        if each.recording_s is not None and not isinstance(need, Missing)
    ]
    silent = [each for each in recorders if each.recording_s is None]
    found = _first(view, lasting, together(_unrecorded(silent) if silent else None, *needed))
    unsaid = [each.name for each in recorders if each.from_lift_off is None]
    if isinstance(found, Missing) or not unsaid or (found.demand <= found.capacity).all():
        return found
    told = (
        f"if {' or '.join(unsaid)} begins to record by itself at lift-off, say so: no wait counts"
    )
    return replace(found, warnings=(told,))


def _recorded_s(view: View, device: Device) -> Array | Missing:
    """How long a device has to record: it may begin by itself, at lift-off."""
    return _flight_s(view) if device.from_lift_off else _needed_s(view)


ROWS = (
    LimitState(
        "battery",
        "A battery runs out before landing",
        phase="pad",
        unit="time",
        more_is_worse=True,
        evaluate=_battery,
        formula=(
            "wait at the pad + flight, against the least run time x (1 - loss at {freezing} x "
            "({room} - T) / 20 K)"
        ),
        sources=("builder", "practice"),
        needs=(
            electronics.pad_wait,
            electronics.battery_life,
            electronics.cold_loss,
            air.temperature,
        ),
        constants={
            "freezing": Constant(FREEZING_K, "temperature", "definition"),
            "room": Constant(
                ROOM_K,
                "temperature",
                "practice",
                note="run times are taken at home; a fifth is lost in the cold",
            ),
        },
    ),
    LimitState(
        "battery_reserve",
        "A battery is flat if the queue takes twice as long",
        phase="pad",
        unit="time",
        more_is_worse=True,
        evaluate=_reserve,
        formula=(
            "{twice} times the wait at the pad, queue included, against the least run time in "
            "the cold"
        ),
        sources=("practice", "builder"),
        needs=(
            electronics.pad_wait,
            electronics.battery_life,
            electronics.cold_loss,
            air.temperature,
        ),
        constants={
            "twice": Constant(RESERVE, "count", "practice", note="queues grow through the day")
        },
        kind="rule",
        thumb=True,
    ),
    LimitState(
        "recording",
        "Recording stops before landing",
        phase="pad",
        unit="time",
        more_is_worse=True,
        evaluate=_recording,
        formula=(
            "wait at the pad + flight, or the flight alone of a device that begins to record at "
            "lift-off, against its recording; of all devices the one with the least left"
        ),
        sources=("builder",),
        needs=(electronics.pad_wait,),
    ),
)
