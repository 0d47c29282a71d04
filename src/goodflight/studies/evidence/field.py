"""Answers about people, papers, field, wind, announcement, misfire and what comes after."""

from goodflight.physics.vehicle.parts import AddedMass, Bulkhead, Canopy, Fins, Nose, Tube
from goodflight.project.newcomer_assumed import own_words
from goodflight.studies.bench.done import done_steps
from goodflight.studies.bench.outlines import material_words
from goodflight.studies.canopy_name import canopy_words
from goodflight.studies.case.planned import canopy_of
from goodflight.studies.evidence.flight import FLOWN
from goodflight.studies.evidence.reply import Reply, by_hand, known, not_known
from goodflight.studies.evidence.seen import Seen
from goodflight.studies.lists.facts import lean_words
from goodflight.studies.questions.landings import direction
from goodflight.studies.rows.reach import impact_of

CARD, SIGNER = "card no. ______ valid to ______", "signer ______, level ______"


def member(seen: Seen) -> Reply:
    """Who flies, for what, who signs."""
    level, until = seen.case.rules.level, seen.case.plan_says.member_until
    said = [] if level in ("", "none") else [f"attempt for {level}"]
    said += [f"member until {until}"] if until else []
    show = f"{'card no. ______' if until else CARD}; {SIGNER}"
    if not said:
        return by_hand(show)
    return by_hand(show, ", ".join(said), "the plan", ("membership",))


def built(seen: Seen) -> Reply:
    """What was made, what was bought."""
    steps = [step for step in done_steps(seen.project).values() if step.done]
    show = "photos of the inner joints; bought: ______"
    if not steps:
        return not_known("tick the steps of the build with photos (goodflight order DIR --tick)")
    photos = sum(bool(step.photo) for step in steps)
    return by_hand(
        show,
        f"{len(steps)} building steps ticked, {photos} with a photo",
        "build.toml",
        ("closed_in", "fasteners"),
    )


def first_flight(seen: Seen) -> Reply:
    """Whether it flew before."""
    said = seen.case.plan_says.first_flight
    if said == "yes":
        return known("yes", "the plan", show="announce it, farther pad")
    if said == "no":
        return by_hand("flown ______ times", "flown before", "the plan")
    return by_hand("tick: [ ] first flight: announce it, farther pad   [ ] flown ______ times")


def fire(seen: Seen) -> Reply:
    """Sparks, heat, dry ground."""
    show = "propellant's sheet: sparks [ ] yes [ ] no; ground today: [ ] wet [ ] dry; ban ______"
    if "fire" in seen.case.plan_says.confirmed:
        return by_hand(
            show, "precautions against fire confirmed in the plan", "the plan", ("fire",)
        )
    return by_hand(show)


def wind_limit(seen: Seen) -> Reply:
    """The wind at which this rocket stays down."""
    code, day = seen.case.rules.code, seen.case.day
    limit = None if code is None else code.wind_m_s
    show = "my own limits: mean ______ gust ______, signed ______ before the day"
    if limit is None:
        return by_hand(show)
    return by_hand(
        show,
        "the code stops at {code}; planned for {wind}",
        "code set of the field",
        ("wind_limit", "rail_exit", "margin_gust"),
        code=(limit.value, "wind"),
        wind=(day.wind_m_s, "wind"),
    )


def unopened(seen: Seen) -> Reply:
    """Where it comes down when nothing opens."""
    row = seen.rows.get("unopened_reach")
    if row is None or row.chance is None:
        return not_known("" if row is None else row.advice)
    found, hits = seen.landings, impact_of(seen.view).speed_m_s
    if found.unopened_m is None or found.unopened_rad is None:
        return not_known("no unopened flight could be worked out: goodflight ledger DIR")
    return known(
        "furthest {far} from the pad, to the "
        + direction(found.unopened_rad)
        + f"; rail {lean_words(seen.case)}; hits at {{v}}",
        "simulated flights without a canopy",
        ("unopened_reach", "rail_angle"),
        "map; nobody on that side",
        far=(found.unopened_m, "length"),
        v=(seen.median(hits), "speed"),
    )


def landing(seen: Seen) -> Reply:
    """Where it lands, and may it be fetched."""
    row = seen.rows.get("off_field")
    if row is None or row.chance is None:
        return not_known("" if row is None else row.advice)
    found = seen.landings
    inside = int((~found.off_field & ~found.barred).sum())
    allowed = "permission" in seen.case.plan_says.confirmed
    return known(
        f"{inside} of {found.flights} simulated landings on the field and out of what is barred; "
        "{away} from the pad",
        FLOWN,
        ("off_field", "keep_out"),
        ("" if allowed else "owner's permission ______; ") + "no road, no lines",
        away=(seen.median(seen.away_m), "length"),
    )


def ballast(seen: Seen) -> Reply:
    """Loose and added mass."""
    found = [p for p in seen.case.rocket.of_kind(AddedMass) if p.role == "ballast"]
    show = "shake it: nothing moves"
    if not found and not seen.weighed:
        return by_hand(show)
    if not found:
        return by_hand(show, "no ballast", "rocket.toml", ("closed_in",))
    grams = sum(part.mass_kg or 0.0 for part in found)
    return by_hand(
        f"how fixed: ______; {show}",
        "{grams} of ballast, {at} from the nose tip",
        f"rocket.toml, {found[0].known}",
        ("closed_in",),
        grams=(grams, "mass"),
        at=(found[0].station_m, "length"),
    )


def materials(seen: Seen) -> Reply:
    """Metal and hard tips."""
    kinds = (Nose, Tube, Fins, Bulkhead)
    said = {
        material_words(part)
        for part in seen.case.rocket.parts
        if isinstance(part, kinds) and part.material is not None
    }
    show = "metal: bolts ______, ballast ______; tip of the nose not of metal"
    if not said:
        return by_hand(show)
    return by_hand(show, "made of " + ", ".join(sorted(said)), "rocket.toml")


def label(seen: Seen) -> Reply:
    """Name and phone on it."""
    return by_hand("label on the body with name, phone, number (print DIR --what labels)")


def igniter(seen: Seen) -> Reply:
    """Not in the motor."""
    return by_hand("igniter in its bag, outside the motor; it goes in at the pad, last of all")


def announced(seen: Seen) -> Reply:
    """What is said and what is watched."""
    canopy, about = canopy_of(seen.case), own_words(seen.project)
    if not about or canopy is None or not seen.weighed:
        return not_known("describe the rocket and its canopy's colour (about), weigh it")
    by = {
        "burn": ("burnout_s", "burnout"),
        "top": ("apogee_s", "apogee"),
        "open": ("ejection_s", "opens"),
        "down": ("landing_s", "down"),
    }
    there = {key: each for key, each in by.items() if seen.has(each[0])}
    times = ", ".join(f"{words} {{{key}}}" for key, (_, words) in there.items())
    return known(
        f"{about.rstrip('.')}. After ignition: {times}",
        FLOWN,
        (),
        "",
        **{key: (seen.band(outcome).middle, "time") for key, (outcome, _) in there.items()},
    )


def misfire(seen: Seen) -> Reply:
    """It does not start."""
    return by_hand(
        "wait at least a minute or as the code says; misfire card; spare igniter ______, "
        "goes: ______"
    )


def stops(seen: Seen) -> Reply:
    """What keeps it on the ground."""
    show = "three of my own, signed before the day: ______ / ______ / ______"
    window = seen.window
    if window.min_n is None or window.max_n is None or not seen.weighed:
        return by_hand(show)
    return by_hand(
        show,
        "no flight when the pull is outside {least} to {most}, or the pack does not slide out",
        "",
        (),
        least=(window.min_n, "force"),
        most=(window.max_n, "force"),
    )


def after(seen: Seen) -> Reply:
    """What has to come back, and how."""
    show = "brought back unrepaired, motor in place; post-flight card"
    if not seen.weighed:
        return by_hand(show)
    flown = canopy_of(seen.case)
    left = {each.name for each in seen.case.deployment.canopies}
    left -= {"" if flown is None else flown.name}
    names = [
        canopy_words(part.name) if isinstance(part, Canopy) else part.name
        for part in seen.case.rocket.parts
        if (part.stands == "body" or part.soft or isinstance(part, Fins)) and part.name not in left
    ]
    return by_hand(show, ", ".join([*names, "motor", "retainer"]), "rocket.toml")
