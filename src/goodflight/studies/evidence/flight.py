"""Answers about motor, mass, stability, fins and height."""

import numpy as np

from goodflight.physics.motor import motor_class, total_impulse_ns
from goodflight.physics.vehicle.parts import Fins
from goodflight.studies.bench.choices import choices_of
from goodflight.studies.bench.outlines import material_words
from goodflight.studies.case.planned import fins_of, guides_of, separation_of
from goodflight.studies.evidence.reply import Reply, by_hand, known, not_known
from goodflight.studies.evidence.seen import Seen, band
from goodflight.studies.lists.facts import RETENTION

WEIGH = "weigh and balance it ready to fly (goodflight weigh DIR)"
FLOWN = "simulated flights"


def of_parts(text: str, **figures: tuple[float, str]) -> Reply:
    """A figure that rests on a rocket nobody weighed whole: it is told, and is not known."""
    return not_known(
        WEIGH, f"from its parts {text}", "masses of its parts, not weighed whole", **figures
    )


def motor(seen: Seen) -> Reply:
    """Motor, class and impulse against the level flown for."""
    case, impulse = seen.case, total_impulse_ns(seen.case.motor)
    level, code = case.rules.level, case.rules.code
    limit = None if code is None else code.level_impulse_ns.get(level)
    allowed = "" if limit is None else f"; {level} allows up to {{limit}}"
    more = {} if limit is None else {"limit": (limit.value, "impulse")}
    return known(
        f"{case.motor.name}, class {motor_class(impulse)}, {{impulse}}{allowed}",
        "thrust curve of its file; code set of the field",
        ("motor_class",),
        "name on the case; list of permitted motors, dated ______",
        impulse=(impulse, "impulse"),
        **more,
    )


def assembled(seen: Seen) -> Reply:
    """Who put the motor together."""
    charge = seen.case.motor.charge_kg
    show = "maker's sheet ticked by both, no part left over; initials ______ ______"
    if charge is None:
        return by_hand(show)
    return by_hand(
        show, "charge in the motor {charge}", "the motor's file", charge=(charge, "powder")
    )


def mass(seen: Seen) -> Reply:
    """Mass ready to fly."""
    found, liftoff = seen.band("liftoff_mass_kg"), seen.view.outcome("liftoff_mass_kg")
    off = round(float(np.nanstd(liftoff)), 3)
    figures = {"mass": (found.middle, "mass"), "off": (off, "mass")}
    if not seen.weighed:
        return of_parts("{mass} ± {off}", **figures)
    limit = seen.case.motor.max_liftoff_kg
    text, show = "{mass} ± {off}, motor in", "on the launch's own scale: ______"
    if limit is None:
        show += "; the maker's highest lift-off mass: ______"
        return known(text, seen.when, (), show, **figures)
    text += "; its maker allows {limit}"
    return known(text, seen.when, ("liftoff_mass",), show, limit=(limit, "mass"), **figures)


def thrust(seen: Seen) -> Reply:
    """Thrust over weight."""
    text = "{first} in the first half second, {mean} over the burn; 3 is the least"
    figures = {
        "first": (seen.band("thrust_to_weight").middle, "ratio"),
        "mean": (seen.band("thrust_to_weight_mean").middle, "ratio"),
    }
    if not seen.weighed:
        return of_parts(text, **figures)
    on = f"thrust curve over weight, {seen.when}"
    return known(text, on, ("thrust_to_weight", "code_thrust"), "", **figures)


def rail_speed(seen: Seen) -> Reply:
    """Speed off this rail and the field's others."""
    case, both, last = seen.case, seen.band("guide_exit_m_s"), seen.band("rail_exit_m_s")
    site = seen.project.site_files[seen.project.plan(case.plan).site][0]
    others = sorted({each.value for each in site.rails} - {case.rail.length_m})
    text = "{rail} rail: {both} until the forward guide leaves, {last} at the last"
    figures: dict[str, tuple[float, str]] = {
        "rail": (case.rail.length_m, "length"),
        "both": (both.middle, "speed"),
        "last": (last.middle, "speed"),
        "wind": (case.day.wind_m_s, "wind"),
    }
    for number, length in enumerate(others[:2]):
        text += f"; {{rail{number}}} rail {{exit{number}}}"
        figures |= {
            f"rail{number}": (length, "length"),
            f"exit{number}": (seen.on_rail(length).middle, "speed"),
        }
    if not seen.weighed:
        return of_parts(text, **figures)
    text += "; wind {wind}"
    return known(text, f"simulated flights, {seen.when}", ("rail_exit",), "", **figures)


def marks(seen: Seen) -> Reply:
    """CG and CP."""
    laid = seen.layout
    text = "CG {cg} ± {off}, CP {cp} ± {cp_off} from the nose tip"
    figures = {
        "cg": (laid.cg_liftoff.station_m, "length"),
        "cp": (laid.cp.station_m, "length"),
        "off": (round(laid.cg_liftoff.sigma_m, 3), "length"),
        "cp_off": (round(laid.cp.sigma_m, 3), "length"),
    }
    if not seen.balanced:
        return of_parts(text, **figures)
    return known(
        text,
        f"CG {seen.when}; CP from the shape, slow flight",
        (),
        "both marks on the skin; drawing with dimensions; balance it here",
        **figures,
    )


def margin(seen: Seen) -> Reply:
    """Margin at lift-off, at burnout, in a gust, and whether it is too much."""
    laid = seen.layout
    text = (
        "{off} at lift-off, {out} at burnout, {gust} in the day's gust as it leaves the rail; "
        "{short} by the short form, of which practice asks 1"
    )
    figures = {
        "short": (laid.margin_short_cal, "calibre"),
        "off": (laid.margin_liftoff_cal, "calibre"),
        "out": (laid.margin_burnout_cal, "calibre"),
        "gust": (laid.margin_gust_cal, "calibre"),
    }
    if not seen.balanced:
        return of_parts(text, **figures)
    rows = ("margin_small", "margin_gust", "weathercock")
    return known(text, f"CP less CG over the diameter, {seen.when}", rows, "", **figures)


def _fins(fins: Fins) -> str:
    made = f" {material_words(fins)}" if fins.material is not None else ""
    held = ", tabs down to the motor tube" if fins.tab_depth_m > 0.0 else ", on the surface"
    return f"{fins.count} fins, {{thick}}{made}{held}"


def straight(seen: Seen) -> Reply:
    """Fins straight and fast."""
    fins = fins_of(seen.case.rocket)
    rows = ("fin_bond", "alignment", "spin_pitch", "cure")
    show = "push each fin by hand; straightedge along each: cant ______ ______ ______ deg"
    if fins is None:
        return not_known("add the fins to the rocket", "")
    thick = (fins.thickness_m, "length")
    cants = choices_of(seen.project).measured_cants_rad
    if not cants:
        stated = (fins.material is not None) and seen.weighed
        return by_hand(show, _fins(fins) if stated else "", "as built", rows, thick=thick)
    said = ", ".join(f"{{cant{i}}}" for i in range(len(cants)))
    return known(
        f"{_fins(fins)}; cants {said}",
        "as measured",
        rows,
        "push each fin by hand",
        thick=thick,
        **{f"cant{i}": (each, "angle") for i, each in enumerate(cants)},
    )


def strong(seen: Seen) -> Reply:
    """Whether fins and body stand the speed."""
    speed, rows = seen.band("max_speed_m_s"), ("flutter", "fin_root", "fin_bond", "model_range")
    figures = {"v": (speed.middle, "speed"), "fast": (speed.high, "speed")}
    row = seen.rows.get("flutter")
    if row is None or row.chance is None:
        do = "say what the fins are made of" if row is None else row.advice
        return not_known(do, "highest speed {v}", FLOWN, **figures)
    if not seen.weighed:
        return of_parts("highest speed {v}", **figures)
    ratio = band(np.asarray(row.capacity / row.demand))
    return known(
        "highest speed {v} (95 in 100 below {fast}); flutter at {ratio} times that, {least} at "
        "least in 95 of 100",
        FLOWN,
        rows,
        "",
        ratio=(ratio.middle, "ratio"),
        least=(ratio.low, "ratio"),
        **figures,
    )


def guides(seen: Seen) -> Reply:
    """Rail guides."""
    found = guides_of(seen.case.rocket)
    if found is None:
        return not_known("add the rail guides to the rocket (kind buttons)")
    figures = {"apart": (found.aft_station_m - found.station_m, "length")}
    show = "slides the whole rail by hand; pull at each guide"
    row = seen.rows.get("guides")
    if row is None or row.chance is None:
        return not_known(
            "pull a guide off a scrap of tube and enter its strength",
            "two, {apart} apart",
            "rocket.toml",
            **figures,
        )
    fit = seen.rows.get("rail_fit")
    if fit is not None and fit.chance is None:
        return not_known(fit.advice, "two, {apart} apart", "rocket.toml", **figures)
    return known(
        "two, {apart} apart; load in gusts {load} (95 in 100) of {holds}",
        FLOWN,
        ("guides", "rail_fit"),
        show,
        load=(band(row.demand).high, "force"),
        holds=(band(row.capacity).middle, "force"),
        **figures,
    )


def retention(seen: Seen) -> Reply:
    """What holds the motor both ways."""
    kind = separation_of(seen.case).retention
    rows = ("motor_pushed_out", "retainer_overhang", "thrust_ring")
    show = "thrust ring on the tube's end; tug it"
    if kind is None:
        return not_known("say how the motor is held: cap, clips or friction")
    row = seen.rows.get("motor_pushed_out")
    if row is None:  # nothing pushes it out: no charge in the motor, or ejected elsewhere
        return known(RETENTION[kind], "rocket.toml", rows, show)
    if row.chance is None:
        return not_known(row.advice, RETENTION[kind], "rocket.toml")
    return known(
        f"{RETENTION[kind]}: stands {{holds}}, the charge pushes {{push}} (95 in 100)",
        "label and simulated flights",
        rows,
        show,
        holds=(band(row.capacity).middle, "force"),
        push=(band(row.demand).high, "force"),
    )


def height(seen: Seen) -> Reply:
    """Apogee against ceiling and cloud."""
    apogee, ceiling, base = (
        seen.band("apogee_m"),
        seen.case.site.ceiling_m,
        seen.case.day.cloud_base_m,
    )
    figures = {"mid": (apogee.middle, "length"), "high": (apogee.high, "length")}
    text = "{mid}, 95 in 100 below {high}"
    if not seen.weighed:
        return of_parts(text, **figures)
    if ceiling is None:
        return not_known("ask for the ceiling and enter it", text, FLOWN, **figures)
    text += "; ceiling {ceiling}" + ("" if base is None else ", cloud base {base}")
    figures |= {"ceiling": (ceiling, "length")}
    figures |= {} if base is None else {"base": (base, "length")}
    return known(text, FLOWN, ("ceiling", "cloud_base"), "", **figures)
