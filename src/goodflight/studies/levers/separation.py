"""Levers of the separation: how hard it holds, the charge that opens it, what must not give."""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from goodflight.physics.flight import registry
from goodflight.physics.vehicle.figure import Figure
from goodflight.quantity.said import said
from goodflight.studies.case.planned import Case, separation_of
from goodflight.studies.case.remade import Stated, stated, with_separation
from goodflight.studies.levers.cord import STRONGER
from goodflight.studies.levers.lever import Lever, Offer, Write, numbers, steps
from goodflight.studies.levers.motor import motor_key
from goodflight.studies.levers.sizes import FORCE, PULL, Sizes

MAX_PINS: Final = 6
PULL_SHARE: Final = 0.1  # of a pull that is set by tape and luggage scale, but not read yet
SCREW_SPREAD: Final = 0.25  # of what a screwed cap or hatch holds, our guess until it is pushed
RETAINERS: Final = Sizes("force", ("N", 50.0), ("lbf", 10.0))  # of what the screws hold
HATCHES: Final = Sizes("force", ("N", 10.0), ("lbf", 2.0))
MOST_HELD: Final = 30  # steps
_WINDOW_ROWS: Final = (
    "separation_handled", "separation_window", "separation_shut", "drag_separation",
    "trapped_air", "bay_vents",
)  # fmt: skip
_CHARGE_ROWS: Final = (
    "separation_shut", "charge_strong", "motor_pushed_out", "separation_window",
    "canopy_stays", "snatch_cord", "snatch_anchor", "zipper", "booster_overtakes", "main_early",
)  # fmt: skip


def read_again(figure: Figure, said_: Stated) -> Figure:
    """A figure as it would be read again once it is written; nobody has measured it."""
    return replace(figure, value=said_.value, sigma=said_.sigma, known="guess")


def _said_pull(case: Case, newton: float) -> Stated:
    return stated(newton, max(1, round(PULL_SHARE * newton)), *PULL.unit(case))


def _pull(base: Case, _now: Case) -> Offer | None:
    """Pull that opens it, in whole newtons."""
    given = base.rocket.separation.pull_n
    if given is None:
        return None
    path, now = given.path or "rocket.toml:separation.pull", given.value
    return numbers(
        now,
        PULL.between(base, 5.0, 80.0),
        lambda case, newton: with_separation(
            case, pull_n=read_again(given, _said_pull(base, newton))
        ),
        lambda newton: ((path, _said_pull(base, newton).text),),
        lambda newton: said(
            f"{'loosen' if newton < now else 'tighten'} the separation to {{pull}}",
            pull=(newton, "force"),
        ),
    )


def _pins(base: Case, _now: Case) -> Offer | None:
    if base.rocket.separation.pull_n is None:
        return None
    return pinned(base, "put in {count} shear pin", "leave the shear pins out", "shear pins {}")


def pinned(
    base: Case, put: str, leave: str, label: str, least: int = 0, main: bool = False
) -> Offer:
    """Shear pins of a separation; `put` is of one pin, `label` takes their thread."""
    held = separation_of(base, main)
    offer = numbers(
        float(held.pins),
        (float(count) for count in range(least, MAX_PINS + 1)),
        lambda case, count: with_separation(case, main, pins=round(count)),
        lambda count: ((f"rocket.toml:{held.tables[0]}.pins", f"{count:g}"),),
        lambda count: (
            said(put + ("" if count == 1.0 else "s"), count=(count, "count"))
            if count
            else said(leave)
        ),
    )
    return replace(offer, label=label.format(held.pin_thread))


def _powders(now_kg: float) -> list[float]:
    """Charges from a quarter to twice, in tenths of a gram."""
    least, most = max(0.2, round(250.0 * now_kg, 1)), max(0.4, round(2000.0 * now_kg, 1))
    return [grams * 1e-3 for grams in steps(least, most, 0.1)]


def _powder(base: Case, now: Case) -> Offer | None:
    """Powder of the charge that fires: the rocket's own, or what the motor comes with."""
    if now.deployment.by == registry.BY_DELAY:
        return _motor_powder(now)
    return charged(base, "{powder} of powder")


def charged(base: Case, words: str, main: bool = False) -> Offer | None:
    """Powder of the rocket's own charge at a separation."""
    own = separation_of(base, main).powder_kg
    if own is None or own.value <= 0.0:
        return None

    def text(mass_kg: float) -> Stated:
        """As it is written: as well known in proportion as the one it replaces."""
        return stated(mass_kg, own.sigma * mass_kg / own.value, "g", 1e-3)

    return numbers(
        own.value,
        _powders(own.value),
        lambda case, mass_kg: with_separation(case, main, powder_kg=read_again(own, text(mass_kg))),
        lambda mass_kg: ((own.path, text(mass_kg).text),),
        lambda mass_kg: said(words, powder=(mass_kg, "powder")),
    )


def _motor_powder(now: Case) -> Offer | None:
    """Powder of the motor's charge, for motors whose charge is poured by the builder."""
    charge = now.motor.charge_kg
    if charge is None or charge <= 0.0:
        return None
    spread, path = now.motor.charge_sigma_kg or 0.1 * charge, f"motors/{motor_key(now)}.toml:charge"

    def text(mass_kg: float) -> Stated:
        return stated(mass_kg, spread * mass_kg / charge, "g", 1e-3)

    def make(case: Case, mass_kg: float) -> Case:
        poured = text(mass_kg)
        motor = replace(case.motor, charge_kg=poured.value, charge_sigma_kg=poured.sigma)
        return replace(case, motor=motor)

    offer = numbers(
        charge,
        _powders(charge),
        make,
        lambda mass_kg: ((path, text(mass_kg).text),),
        lambda mass_kg: said(
            f"pour {'less' if mass_kg < charge else 'more'} powder into the motor's charge: "
            "{powder}",
            powder=(mass_kg, "powder"),
        ),
    )
    return replace(offer, label="powder of the motor's charge")


def stronger(title: str, *fields: str, main: bool = False) -> Callable[[Case, Case], Offer | None]:
    """What holds, times a factor; only where every figure is given."""

    def offer(base: Case, _now: Case) -> Offer | None:
        given = {name: getattr(separation_of(base, main), name) for name in fields}
        if any(figure is None for figure in given.values()):
            return None

        unit = FORCE.unit(base)

        def times(factor: float) -> dict[str, Stated]:
            return {n: stated(factor * f.value, factor * f.sigma, *unit) for n, f in given.items()}

        def make(case: Case, factor: float) -> Case:
            return with_separation(
                case, main, **{n: read_again(given[n], s) for n, s in times(factor).items()}
            )

        def writes(factor: float) -> tuple[Write, ...]:
            return tuple((given[n].path, s.text) for n, s in times(factor).items())

        return numbers(
            1.0,
            STRONGER,
            make=make,
            writes=writes,
            title=lambda f: said(title, factor=(f, "ratio")),
            towards="up",
        )

    return offer


def _retainer(base: Case, _now: Case) -> Offer | None:
    """A screwed retainer where friction, clips or nothing that is said holds the motor."""
    separation = base.rocket.separation
    fitted = separation.retention == "cap"
    now = separation.retention_n.value if separation.retention_n is not None else 0.0
    if fitted and now <= 0.0:
        return None
    kind = () if fitted else (("rocket.toml:retention.kind", "cap"),)

    return _held(
        base,
        now,
        sizes=RETAINERS,
        fit=lambda case, figure: with_separation(case, retention="cap", retention_n=figure),
        path="rocket.toml:retention.holds",
        title="fit a screwed motor retainer that holds {force} or more",
        also=kind,
    )


def _hatch(base: Case, _now: Case) -> Offer | None:
    """Screws for the hatch."""
    hatch = base.rocket.hatch
    if not hatch.there:
        return None
    now = 0.0 if hatch.holds_n is None else hatch.holds_n.value

    def make(case: Case, figure: Figure) -> Case:
        hatch = replace(case.rocket.hatch, holds_n=figure)
        return replace(case, rocket=replace(case.rocket, hatch=hatch))

    title = "fasten the hatch with screws that hold {force} or more"
    return _held(base, now, sizes=HATCHES, fit=make, path="rocket.toml:hatch.holds", title=title)


def _held(
    base: Case,
    now: float,
    sizes: Sizes,
    fit: Callable[[Case, Figure], Case],
    path: str,
    title: str,
    also: tuple[Write, ...] = (),
) -> Offer | None:
    """Screws that hold more than now, a guess until they are pulled on; `also` is written."""

    def holds(newton: float) -> Stated:
        return stated(newton, SCREW_SPREAD * newton, *sizes.unit(base))

    step = sizes.step(base)

    def make(case: Case, newton: float) -> Case:
        held = holds(newton)
        return fit(case, Figure(held.value, held.sigma, "guess", path))

    return numbers(
        now,
        (force for force in sizes.between(base, step, MOST_HELD * step) if force > now),
        make=make,
        writes=lambda newton: (*also, (path, holds(newton).text)),
        title=lambda newton: said(title, force=(newton, "force")),
        towards="up",
    )


LEVERS: Final = (
    Lever(
        "pull",
        "pull to separate",
        dimension="force",
        cost="minutes",
        offer=_pull,
        note=("add tape, or remove tape or sand, then pull again with the scale"),
        helps=_WINDOW_ROWS,
        flies=False,
        slider=True,
        touches=_WINDOW_ROWS,
    ),
    Lever(
        "pins",
        "shear pins",
        dimension="count",
        cost="minutes",
        offer=_pins,
        note="with a ground test again",
        helps=_WINDOW_ROWS,
        flies=False,
        slider=True,
        touches=_WINDOW_ROWS,
    ),
    Lever(
        "powder",
        "powder of the charge",
        dimension="powder",
        cost="minutes",
        offer=_powder,
        note=(
            "only a charge that its maker lets you pour yourself: never open a sealed motor; "
            "with a ground test again"
        ),
        helps=_CHARGE_ROWS,
        flies=False,
        slider=True,
        caution="powder",
        touches=("separation_shut", "charge_strong", "motor_pushed_out"),
    ),
    Lever(
        "retainer",
        "what the motor's retainer holds",
        dimension="force",
        cost="purchase",
        offer=_retainer,
        note=(
            "a few tens of grams at the tail: balance again; push the empty case against a scale"
        ),
        helps=("motor_pushed_out", "retainer_overhang"),
        flies=False,
    ),
    Lever(
        "hatch",
        "what holds the hatch",
        dimension="force",
        cost="evening",
        offer=_hatch,
        note=(
            "screws into metal or glued nuts, no tape; pull on it outwards with the scale "
            "afterwards"
        ),
        helps=("hatch_off",),
        flies=False,
        touches=("hatch_off",),
    ),
    Lever(
        "anchors",
        "strength of the cord attachments",
        "ratio",
        "evening",
        stronger(
            "reinforce both cord attachments to {factor} times their strength",
            "fore_anchor_n",
            "aft_anchor_n",
        ),
        helps=("snatch_anchor",),
        flies=False,
    ),
    Lever(
        "bulkhead",
        "strength of the bulkhead ahead of the bay",
        "ratio",
        "evening",
        stronger(
            "reinforce the bulkhead ahead of the bay to {factor} times its strength", "bulkhead_n"
        ),
        helps=("charge_strong",),
        flies=False,
    ),
    Lever(
        "fixed",
        "strength of the joint that must stay",
        "ratio",
        "minutes",
        stronger(
            "fasten the joint that must stay {factor} times as strongly: more rivets",
            "fixed_joint_n",
        ),
        helps=("charge_strong", "nose_jerked"),
        flies=False,
    ),
)
