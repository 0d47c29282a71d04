"""Logs of every form give the same flight; what is no flight is refused with the reason."""

from collections.abc import Callable

import numpy as np
import pytest

from goodflight.physics.recorded import Measured
from goodflight.project.logs.cells import LogRefused
from goodflight.project.logs.read import LogRead, read_log
from goodflight.project.logs.recordings import SeveralFlights
from made_logs import (
    APOGEE_M,
    APOGEE_S,
    BURN_S,
    CHARGE_S,
    FIRST_MPS,
    LANDING_S,
    LAST_MPS,
    LIFT_S,
    SECOND_S,
    G,
    in_feet,
    made,
    pressure_pa,
    table,
)
from mutations import mutated

M = made()
TIME, HEIGHT, PRESSURE, AXIAL = (M[key] for key in ("time", "height", "pressure", "axial"))
PLAIN = {"time_s": TIME, "pressure_Pa": PRESSURE, "accel_z_mps2": AXIAL}


def day_clock() -> str:
    """Times of day that pass midnight in the flight."""
    rows = ["clock,pressure_hPa"]
    for t, p in zip(TIME, PRESSURE, strict=True):
        s = (86_400.0 - 10.0 + t) % 86_400.0
        rows.append(f"{int(s) // 3600:02d}:{int(s) % 3600 // 60:02d}:{s % 60:06.3f},{p / 100:.4f}")
    return "\n".join(rows)


def repeated() -> str:
    """A coarse clock: five readings bear one time."""
    return table({"ms": np.floor(TIME / 0.25) * 250.0, "alt_m": HEIGHT}, form="{:.2f}")


def with_marks() -> str:
    rows = table(PLAIN).splitlines()
    rows.insert(300, "LIFTOFF")
    rows.insert(700, "12.3,APOGEE")
    return "\n".join(rows) + "\n" + rows[-1][:9]  # cut off in its last line


def two_recordings() -> str:
    short = {key: each[:150] for key, each in PLAIN.items()}
    return table(short) + table(PLAIN)


def with_gap() -> str:
    keep = (TIME < 20.0) | (TIME > 23.0)
    return table({key: each[keep] for key, each in PLAIN.items()})


def counter() -> str:
    """A 16-bit count of milliseconds that runs over."""
    ticks = (60_000.0 + 1000.0 * TIME) % 65_536.0
    return table({"tick": np.round(ticks), "baro_kPa": PRESSURE / 1e3, "ax_g": AXIAL / G})


def several_sensors() -> str:
    """A fine accelerometer that meets its limit, a coarse one that does not, a dead barometer."""
    fine = np.clip(AXIAL, -40.0, 40.0)
    columns = {"t_us": 1e6 * TIME, "p1_Pa": 0 * TIME - 63_596.0, "p2_Pa": PRESSURE,
               "acc1_mps2": fine, "acc2_mps2": AXIAL}  # fmt: skip
    return table(columns)


def units_line() -> str:
    head, rest = table({"Time": TIME, "Pressure": PRESSURE / 100.0}).split("\n", 1)
    return f"# logger 7\n{head}\n(s),(hPa)\n{rest}"


def units_in_cells() -> str:
    return "\n".join(f"{t:.3f} s; {h:.2f} ft" for t, h in zip(TIME, in_feet(HEIGHT), strict=True))


FORMS: dict[str, Callable[[], str | bytes]] = {
    "plain": lambda: table(PLAIN),
    "tabs": lambda: table(PLAIN, "\t"),
    "spaces": lambda: table(PLAIN, "  "),
    "bars": lambda: table(PLAIN, " | "),
    "semicolons and decimal commas": lambda: table(PLAIN, ";", ","),
    "no header": lambda: table({"a": TIME, "b": PRESSURE}, head=False),
    "no header, feet": lambda: table({"a": TIME, "b": in_feet(HEIGHT)}, head=False),
    "no header, hPa and ms": lambda: table({"a": 1e3 * TIME, "b": PRESSURE / 100}, head=False),
    "feet in the name": lambda: table({"t (ms)": 1e3 * TIME, "Altitude [ft]": in_feet(HEIGHT)}),
    "feet not written": lambda: table({"time": TIME, "altitude": in_feet(HEIGHT)}),
    "mbar": lambda: table({"Time": TIME, "baro (mbar)": PRESSURE / 100}),
    "a unit that is wrong": lambda: table({"time_s": TIME, "press_hPa": PRESSURE}),
    "in units of gravity": lambda: table(
        {"time_s": TIME, "ax": 0 * TIME, "ay": -AXIAL / G, "az": 0 * TIME, "p_Pa": PRESSURE}
    ),
    "clock past midnight": day_clock,
    "repeated times": repeated,
    "event marks and a cut last line": with_marks,
    "two recordings": two_recordings,
    "gap": with_gap,
    "counter runs over": counter,
    "several sensors": several_sensors,
    "line of units": units_line,
    "units in the cells": units_in_cells,
    "UTF-16": lambda: table(PLAIN).encode("utf-16"),
    "UTF-16 without mark": lambda: table(PLAIN).encode("utf-16-le"),
    "UTF-8 with mark": lambda: b"\xef\xbb\xbf" + table(PLAIN).encode(),
    "Windows": lambda: table({"time_s": TIME, "Höhe altitude_m": HEIGHT}).encode("cp1252"),
    "empty bytes": lambda: table(PLAIN).replace("\n", "\n\0\0").encode(),
    "quotes and Windows line ends": lambda: table(PLAIN, '","').replace("\n", "\r\n").encode(),
}


def read(text: str | bytes, **told: str) -> LogRead:
    raw = text.encode() if isinstance(text, str) else text
    return read_log(raw, {key.lstrip("c"): what for key, what in told.items()})


def within(found: Measured | None, truth: float, least: float = 0.0) -> bool:
    return found is not None and abs(found.value - truth) < max(3.0 * found.error, least)


@pytest.mark.parametrize("form", FORMS)
def test_every_form_gives_the_same_flight(form: str) -> None:
    """The truth is the closed form of tests/made_logs.py."""
    happened = read(FORMS[form]()).events.happened
    assert happened.apogee_standard_m is not None and happened.apogee_s is not None
    assert happened.apogee_standard_m.value == pytest.approx(APOGEE_M, rel=0.005)
    assert happened.apogee_s.value == pytest.approx(APOGEE_S, abs=0.4)
    assert within(happened.first_rate_mps, FIRST_MPS) and within(happened.last_rate_mps, LAST_MPS)
    assert within(happened.second_canopy_s, SECOND_S, 1.0)
    assert within(happened.landing_s, LANDING_S, 1.0)


def test_events_of_a_log_with_an_accelerometer() -> None:
    found = read(table(PLAIN))
    assert found.events.lift_off_s == pytest.approx(LIFT_S, abs=0.06)
    assert within(found.events.happened.burnout_s, BURN_S)
    assert within(found.events.happened.apogee_s, APOGEE_S)


def test_a_spike_of_the_charge_is_the_charge_and_no_height() -> None:
    spiked = HEIGHT + 300.0 * (np.abs(TIME - LIFT_S - CHARGE_S) < 0.1)
    found = read(table({"time_s": TIME, "pressure_Pa": pressure_pa(spiked), "az_mps2": AXIAL}))
    assert within(found.events.happened.charge_s, CHARGE_S)
    assert found.events.happened.apogee_standard_m is not None
    assert found.events.happened.apogee_standard_m.value == pytest.approx(APOGEE_M, rel=0.005)


def test_the_coarse_sensor_stands_in_where_the_fine_one_is_at_its_limit() -> None:
    used = [each.name for each in read(several_sensors()).columns if each.used]
    assert used == ["t_us", "p2_Pa", "acc2_mps2"]


def test_what_was_done_to_read_it_is_said() -> None:
    said = " ".join(read(two_recordings()).said)
    words = "2 recordings in one file, 1 of them a whole flight; read: that from line 153, to 547 m"
    assert words in said, said
    assert "1 line that is no reading left out" in said
    assert "1 gap, 3.1 s" in " ".join(read(with_gap()).said)
    assert "2 lines that are no readings left out" in " ".join(read(with_marks()).said)
    assert "repeated times spread evenly" in " ".join(read(repeated()).said)
    assert "counted on" in " ".join(read(day_clock()).said)
    assert "read as UTF-16" in " ".join(read(table(PLAIN).encode("utf-16")).said)


def second_flight(rest_s: float, silent_s: float) -> str:
    """Another flight on the same clock, after some time at rest or without a reading."""
    start = TIME[-1] + 0.05
    rest = np.arange(start, start + rest_s, 0.05)
    level = table({"t": rest, "p": pressure_pa(0.0 * rest)}, head=False) if rest_s else ""
    later = {"t": TIME + start + rest_s + silent_s, "p": made(seed=2)["pressure"]}
    return level + table(later, head=False)


@pytest.mark.parametrize("between", [(0.0, 0.0), (200.0, 0.0), (0.0, 200.0), (0.0, 4000.0)])
def test_two_flights_in_one_file_are_told_and_one_has_to_be_chosen(
    between: tuple[float, float],
) -> None:
    text = table({"time_s": TIME, "pressure_Pa": PRESSURE}) + second_flight(*between)
    with pytest.raises(SeveralFlights, match="2 flights in one file: 1 from line 2, to 54") as told:
        read(text)
    assert [each.number for each in told.value.there] == [1, 2]
    for number in (1, 2):
        found = read_log(text.encode(), recording=number)
        assert found.recording == number and len(found.there) == 2
        assert within(found.events.happened.apogee_standard_m, APOGEE_M)
        assert within(found.events.happened.apogee_s, APOGEE_S)
    with pytest.raises(LogRefused, match="recording 3"):
        read_log(text.encode(), recording=3)


def test_feet_are_known_by_gravity() -> None:
    """A free fall curves by 9.8 m or 32.2 ft a second squared."""
    column = read(FORMS["feet not written"]()).columns[1]
    assert (column.kind, column.unit) == ("height", "ft") and "feet, as it curves by 3" in (
        column.because
    )


def test_told_stands_before_found() -> None:
    text = table({"time_s": TIME, "a": PRESSURE / 100.0, "b": PRESSURE / 100.0 + 3.0})
    assert [each.number for each in read(text, c3="pressure hPa").columns if each.used] == [1, 3]
    assert read(text, a="ignore").columns[1].kind == "ignore"


@pytest.mark.parametrize(
    ("told", "words"),
    [
        ({"c9": "pressure Pa"}, "a number from 1 to 3"),
        ({"c2": "pressure"}, "a unit: Pa, hPa"),
        ({"c2": "sound dB"}, "time, pressure, height, acceleration, ignore"),
    ],
)
def test_what_was_told_wrongly_is_refused(told: dict[str, str], words: str) -> None:
    with pytest.raises(LogRefused, match=words):
        read(table(PLAIN), **told)


def pumped() -> str:
    """An altimeter in a vessel that is pumped out."""
    slow = 400.0 * np.sin(np.pi * TIME / TIME[-1]) ** 2
    return table({"time_s": TIME, "pressure_Pa": pressure_pa(slow)})


def stands() -> str:
    return table({"time_s": TIME, "pressure_Pa": 99_000.0 + 0 * TIME, "ax_g": AXIAL / G})


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "0 lines with something in them"),
        ("a quick note\n" * 100, "no table of numbers"),
        (table({"time_s": TIME, "pressure_Pa": pressure_pa(0 * TIME + np.sin(TIME))}), "no rise"),
        (pumped(), "a climb of .* m/s at most"),
        (stands(), "it stands still"),
        (table({"time_s": TIME, "ax_g": AXIAL / G}), "no column of pressures or heights"),
        (table({"pressure_Pa": PRESSURE, "temp_C": 20 + 0 * TIME}), "no column of times"),
        (table({"time_s": TIME, "pressure_Pa": -PRESSURE}), "dead or another unit"),
        (table({"time_ms": TIME, "pressure_Pa": PRESSURE}), "check the unit of its time"),
        (table({"time_s": 1e17 * TIME, "pressure_Pa": PRESSURE}), "days"),
    ],
)
def test_what_is_no_flight_is_refused_with_the_reason(text: str, words: str) -> None:
    with pytest.raises(LogRefused, match=words) as caught:
        read(text)
    assert caught.value.advice


@pytest.mark.parametrize("first", range(0, 120, 40))
def test_a_mutated_log_is_read_or_refused_in_words(first: int) -> None:
    """100 000 of them: tools/mutated_logs.py."""
    for number in range(first, first + 40):
        try:
            read_log(mutated(number))
        except LogRefused as error:
            assert error.found
