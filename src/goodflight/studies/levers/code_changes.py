"""What the builder can do about rules, checks, the order of work and the sky, as changed cases."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from goodflight.physics.air.model import Day
from goodflight.physics.motor import total_impulse_ns
from goodflight.studies.case.planned import Case, fins_of
from goodflight.studies.case.remade import stated, with_length
from goodflight.studies.levers.changes import Change
from goodflight.studies.results import Cost

THICKER = 1.5
MASS_GUESS = 0.10  # of a mass nobody has weighed yet, as the project takes it
CLEAR_BASE_M = 1500.0
CLEAR_TENTHS = 3.0

# rule not met -> (what to do, cost, note)
_ANSWERS: dict[str, tuple[str, Cost, str]] = {
    "night": ("fly between sunrise and sunset", "another_day", ""),
    "airport": ("ask the airport, or fly from another field", "another_day", "in writing"),
    "visibility": ("wait until you see far enough", "another_day", ""),
    "notice": ("tell air traffic control in time", "another_day", "24 h to 3 days in the US"),
    "airspace": ("ask for the airspace", "another_day", ""),
    "permission": ("ask for the permission or waiver", "another_day", "weeks ahead"),
    "responsible": ("name the person with the last word", "free", "range safety officer"),
    "fire": ("bring water and beaters to the pad", "minutes", ""),
}


def answers(case: Case) -> Iterator[Change]:
    """Meet a rule that the plan says is not met."""
    for key in case.denied:
        title, cost, note = _ANSWERS[key]
        left = tuple(each for each in case.denied if each != key)
        yield Change(
            f"meet_{key}", title, cost, note,
            replace(case, denied=left, confirmed=(*case.confirmed, key)),
            ((f"{case.plan_path}.confirmed", _list((*case.confirmed, key))),
             (f"{case.plan_path}.denied", _list(left))),
            False, (key,),
        )  # fmt: skip


def _list(names: Sequence[str]) -> str:
    """A list of names as the project writes it."""
    return "[" + ", ".join(f'"{name}"' for name in names) + "]"


def flight_line(case: Case) -> Iterator[Change]:
    """Move the people back as far as the code asks."""
    impulse = total_impulse_ns(case.motor)
    table = () if case.code is None else case.code.people_m
    needed = next((limit.value for up_to, limit in table if impulse <= up_to), None)
    if needed is None or case.spectators_m is None or case.spectators_m >= needed:
        return
    away = math.ceil(needed)
    yield Change(
        "people_back", f"move the flight line back to {away} m", "free", "",
        replace(case, spectators_m=float(away)),
        ((f"{case.site_path}:spectators", f"{away} m"),), False, ("crew_distance",),
    )  # fmt: skip


def sky(case: Case) -> Iterator[Change]:
    """Wait for a clearer sky."""
    base, cover = case.day.cloud_base_m, case.day.cloud_cover_tenths
    if base is None and cover is None:
        return
    day = replace(
        case.day,
        cloud_base_m=None if base is None else max(base, CLEAR_BASE_M),
        cloud_cover_tenths=None if cover is None else min(cover, CLEAR_TENTHS),
    )
    yield Change(
        "sky_clear", f"wait for less than {CLEAR_TENTHS:.0f} tenths of cloud above "
        f"{CLEAR_BASE_M:.0f} m", "another_day", "go / no-go limit at the pad",
        replace(case, day=day),
        _sky_writes(case.plan_path, day), False,
        ("cloud_base", "cloud_cover"),
    )  # fmt: skip


def _sky_writes(plan_path: str, day: Day) -> tuple[tuple[str, str], ...]:
    found = []
    if day.cloud_base_m is not None:
        found.append((f"{plan_path}.day.cloud_base", f"{day.cloud_base_m:g} m"))
    if day.cloud_cover_tenths is not None:
        found.append((f"{plan_path}.day.cloud_cover", f"{day.cloud_cover_tenths / 10.0:g}"))
    return tuple(found)


def bench(case: Case) -> Iterator[Change]:
    """Tighten what is loose; fit before closing."""
    workshop = case.workshop
    tight = tuple((name, "tight") for name, _ in workshop.checks)
    if tight != workshop.checks:
        yield Change(
            "tighten", "tighten it, secure it, check again", "minutes",
            "thread lock or safety wire",
            replace(case, workshop=replace(workshop, checks=tight)),
            tuple((f"build.toml:check[{name}].state", "tight") for name, s in workshop.checks
                  if s != "tight"), False, ("fasteners",),
        )  # fmt: skip
    if workshop.early:
        yield Change(
            "fit_first", "fit it before it is closed in: change the order of the steps", "free",
            "if it is not closed yet; in build.toml, by hand",
            replace(case, workshop=replace(workshop, early=())), (), False, ("closed_in",),
        )  # fmt: skip


def fin_sheet(case: Case) -> Iterator[Change]:
    """Fins of thicker sheet; flutter speed goes with thickness to the power of 1.5."""
    fins = fins_of(case.rocket)
    if fins is None:
        return
    thick_mm = round(1e3 * THICKER * fins.thickness_m, 1)
    path = f"rocket.toml:part[{fins.name}]"
    sheet = stated(1e-3 * thick_mm, 1e-4, "mm", 1e-3)
    changes: dict[str, float] = {"thickness_m": sheet.value}
    writes = [(f"{path}.thickness", sheet.text)]
    if fins.mass_kg is not None:
        mass = stated(THICKER * fins.mass_kg, MASS_GUESS * THICKER * fins.mass_kg, "g", 1e-3, 3)
        changes |= {"mass_kg": mass.value, "mass_sigma_kg": mass.sigma}
        writes.append((f"{path}.mass", mass.text))
    thick = replace(fins, known="guess", **changes)  # type: ignore[arg-type]
    yield Change(
        "fins_thick", f"cut the fins from {thick_mm:g} mm sheet", "purchase",
        "heavier at the tail: weigh and balance again",
        with_length(case, fins, thick, "thickness", sheet, shape=True),
        tuple(writes), True, ("fin_root", "flutter", "fin_strike"),
    )  # fmt: skip


MAKERS = (answers, flight_line, sky, bench, fin_sheet)
