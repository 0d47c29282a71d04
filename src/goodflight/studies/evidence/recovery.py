"""Answers about delay, separation, canopy, cord and what fires a charge."""

import numpy as np

from goodflight.physics.flight import registry
from goodflight.physics.recovery.canopy import drag_area_m2
from goodflight.physics.structure.landing import landing_energy_j
from goodflight.studies.case.planned import (
    canopy_of,
    cord_of,
    gear_bay,
    main_cord_of,
    separation_of,
)
from goodflight.studies.evidence.flight import FLOWN, of_parts
from goodflight.studies.evidence.reply import Reply, by_hand, known, not_known
from goodflight.studies.evidence.seen import MISSED_S, Seen, band
from goodflight.studies.lists.facts import facts_of

Figures = dict[str, tuple[float, str]]


def delay(seen: Seen) -> Reply:
    """What fires first, when, and how fast it then flies."""
    if seen.case.deployment.by == registry.BY_ALTIMETER:
        return _altimeter(seen)
    sold, out = seen.case.motor.delay_s, seen.case.deployment.delay_out_s
    if sold is None:
        return not_known("the motor is plugged: choose one with a delay, or deployment = altimeter")
    to_top = band(seen.view.outcome("apogee_s") - seen.view.outcome("burnout_s"))
    fired, early, late = (
        seen.band("ejection_m_s"),
        seen.with_delay(-MISSED_S),
        seen.with_delay(MISSED_S),
    )
    figures: Figures = {
        "left": (sold - out, "time"),
        "out": (out, "time"),
        "best": (to_top.middle, "time"),
        "v": (fired.high, "speed"),
        "early": (early.high, "speed"),
        "late": (late.high, "speed"),
        "missed": (MISSED_S, "time"),
    }
    taken = "as sold" if out == 0.0 else "{out} taken out by the maker's tool"
    text = (
        f"{{left}} after burnout ({taken}); apogee {{best}} after it; air speed then below {{v}}, "
        "{early} if {missed} early, {late} if {missed} late (95 in 100)"
    )
    if not seen.weighed:
        return of_parts(text, **figures)
    rows = ("too_early", "too_late", "nothing_opens")
    on = "simulated flights with the delay's scatter"
    return known(text, on, rows, "adjusted by: ______", **figures)


def _altimeter(seen: Seen) -> Reply:
    lag, main = seen.case.deployment.apogee_lag_s, seen.case.deployment.main_canopy
    figures: Figures = {"lag": (lag, "time"), "v": (seen.band("ejection_m_s").high, "speed")}
    text = "altimeter, {lag} after apogee, air speed then below {v} (95 in 100)"
    if main is not None:
        text += f"; second canopy {main.name} at {{height}}"
        figures["height"] = (seen.case.deployment.main_height_m, "length")
    if not seen.weighed:
        return of_parts(text, **figures)
    return known(
        text,
        FLOWN,
        ("too_late", "nothing_opens", "main_low", "drogue_speed"),
        "settings read from the altimeter: ______",
        **figures,
    )


def pull(seen: Seen) -> Reply:
    """How it stays shut and how it opens."""
    found = seen.window
    rows = (
        "separation_window",
        "separation_shut",
        "drag_separation",
        "trapped_air",
        "separation_handled",
    )
    ends: Figures = {}
    text = between = ""
    if found.min_n is not None and found.max_n is not None:
        ends = {"least": (found.min_n, "force"), "most": (found.max_n, "force")}
        between = "between {least} and {most}"
        text = f"to open {between}"
    if found.measured_n is None or not ends:
        return not_known(
            "; ".join(dict.fromkeys(found.advice)), text, "goodflight separation DIR", **ends
        )
    told = separation_of(seen.case).pull_n
    how = "pins of the project" if told is None else f"luggage scale ({told.known})"
    if told is not None and told.known != "measured":
        return not_known(
            "pull it apart three times on a luggage scale (separation.pull)",
            text,
            "not measured",
            **ends,
        )
    return known(
        f"opens at {{held}}, {between}",
        how,
        rows,
        "pull it apart here: ______; vent holes open",
        held=(found.measured_n, "force"),
        **ends,
    )


def canopy(seen: Seen) -> Reply:
    """Canopy and descent."""
    main = seen.case.deployment.main_canopy
    found = canopy_of(seen.case) if main is None else main
    if found is None:
        return not_known("add the canopy to the rocket (kind canopy)")
    speed = seen.band("descent_m_s")
    mass = seen.median(seen.view.parameter("dry_mass_kg"))
    size = f"{found.name}, {found.kind.replace('_', ' ')}"
    figures: Figures = {
        "drag": (drag_area_m2(found), "area"),
        "v": (speed.middle, "speed"),
        "fast": (speed.high, "speed"),
    }
    if found.across_m > 0.0:
        size += f", {{across}} {found.way}".rstrip()
        figures["across"] = (found.across_m, "length")
    text = f"{size}, drag area {{drag}}: down at {{v}} (95 in 100 below {{fast}})"
    if not seen.has("descent_m_s"):
        return not_known("no canopy opens in most simulated flights: goodflight ledger DIR")
    if not seen.weighed:
        return of_parts(text, **figures)
    figures["energy"] = (float(landing_energy_j(mass, speed.middle)), "energy")
    rows = ("landing_speed", "opening_canopy", "main_opening")
    return known(text + ", {energy} with the empty motor", FLOWN, rows, "", **figures)


def protected(seen: Seen) -> Reply:
    """Kept from the charge."""
    held = separation_of(seen.case)
    rows = ("canopy_scorched", "main_scorched")
    if held.blanket_m2 is not None:
        return known(
            "heat blanket of {area}, on the side of the charge",
            held.blanket_m2.known,
            rows,
            "blanket closed round the canopy",
            area=(held.blanket_m2.value, "area"),
        )
    if held.wadding:
        return known("wadding between charge and canopy", "rocket.toml", rows, "wadding, all round")
    if "canopy_scorched" in seen.not_here:
        return known("no charge burns beside the canopy", "rocket.toml")
    return not_known("say what protects the canopy: charge.blanket or charge.wadding")


def packed(seen: Seen) -> Reply:
    """Packed today, slides out."""
    row, bay = seen.rows.get("gear_fits"), gear_bay(seen.case)
    show = "packed at ______ o'clock; tilt the tube: all of it slides out"
    if row is None or bay is None or row.chance is None or not seen.weighed:
        return by_hand(show)
    return by_hand(
        show,
        "stack of {stack} in {room} of bay",
        "packed lengths of the project",
        ("gear_fits", "canopy_stays", "main_fits"),
        stack=(band(row.demand).middle, "length"),
        room=(band(row.capacity).middle, "length"),
    )


def cord(seen: Seen) -> Reply:
    """Cord and anchors."""
    found = cord_of(seen.case)
    rows = ("snatch_cord", "opening_cord", "snatch_anchor", "anchor", "main_cord", "main_anchor")
    if found is None or found.strength_n <= 0.0:
        return not_known("add the cord with its length and strength (kind cord)")
    figures: Figures = {"long": (found.length_m, "length"), "holds": (found.strength_n, "force")}
    text = "{long}, new {holds}"
    snatch = seen.rows.get("snatch_cord")
    if snatch is None or snatch.chance is None:
        return not_known("" if snatch is None else snatch.advice, text, "label", **figures)
    text += ", knots taken off {left}; jerk {peak} (95 in 100)"
    figures |= {
        "left": (band(snatch.capacity).middle, "force"),
        "peak": (band(snatch.demand).high, "force"),
    }
    second = main_cord_of(seen.case)
    if second is not None:
        text += "; second cord {second}"
        figures["second"] = (second.length_m, "length")
    return known(text, "label, simulated flights", rows, "no burn, no cut; closed eyes", **figures)


def edge(seen: Seen) -> Reply:
    """Cord against the tube's edge."""
    row = seen.rows.get("zipper")
    if row is None:
        return known("no cord bears on a tube's edge", "rocket.toml", (), "edge")
    if row.chance is None:
        return not_known(row.advice)
    return known(
        "cord bears on it with {load} (95 in 100), the edge stands {holds}",
        "simulated flights",
        ("zipper",),
        "edge smooth, guard or leader over it",
        load=(band(row.demand).high, "force"),
        holds=(band(row.capacity).middle, "force"),
    )


def electronics(seen: Seen) -> Reply:
    """What is switched on, what it fires, who disarms."""
    facts, rows = facts_of(seen.case), ("battery", "recording", "electronics_vents")
    carried = [each for each in seen.case.deployment.devices if each.on_board]
    names = ", ".join(each.name for each in carried)
    if facts["altimeter"]:
        show = "switch, tones; who arms: ______, who disarms: ______; battery of ______"
        return by_hand(
            show,
            f"{names or 'altimeter'} fires the charges: armed only upright on the rail, "
            "disarmed first after landing",
            "the lists of this flight",
            rows,
        )
    if facts["switched"] is None:
        return not_known("say which devices fly, with their run times, or that none does")
    if not facts["switched"]:
        return known("none on board", "rocket.toml")
    if not names:
        return not_known("name the devices of the electronics bay with their run times")
    row = seen.rows.get("battery")
    if row is None or row.chance is None:
        return not_known("" if row is None else row.advice, f"{names}; they fire nothing")
    return known(
        f"{names}: fire no charge; on for {{need}} (95 in 100) of {{run}}",
        "waits and run times",
        rows,
        "lamp or tones",
        need=(band(np.asarray(row.demand)).high, "time"),
        run=(band(row.capacity).middle, "time"),
    )
