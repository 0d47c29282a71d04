"""Levers of the separation: how hard it holds, the charge that opens it, what must not give."""

from collections.abc import Callable
from dataclasses import replace
from typing import Final

from goodflight.physics.vehicle.separation import Figure
from goodflight.studies.case.planned import Case
from goodflight.studies.case.remade import Stated, stated, with_separation
from goodflight.studies.levers.lever import Lever, Offer, Write, numbers, once, steps
from goodflight.studies.results import Cost, said

PULLS: Final = (0.7, 1.4)
MAX_PINS: Final = 6
PULL_SHARE: Final = 0.1  # of a pull that is set by tape and luggage scale, but not read yet
RETAINER_N: Final = 600.0  # a screwed cap on a glued ring; our guess until it is pushed on a scale
RETAINER_SIGMA_N: Final = 150.0
STRONGER: Final = (1.5, 2.0, 3.0)
_WINDOW_ROWS: Final = (
    "separation_handled", "separation_window", "separation_shut", "drag_separation",
    "trapped_air", "bay_vents",
)  # fmt: skip
_CHARGE_ROWS: Final = (
    "separation_shut", "charge_strong", "motor_pushed_out", "separation_window",
    "canopy_stays", "snatch_cord", "snatch_anchor", "zipper", "booster_overtakes",
)  # fmt: skip


def _read(figure: Figure, said_: Stated) -> Figure:
    """A figure as it would be read again once it is written; nobody has measured it."""
    return replace(figure, value=said_.value, sigma=said_.sigma, known="guess")


def _said_pull(newton: float) -> Stated:
    return stated(newton, max(1, round(PULL_SHARE * newton)), "N")


def _pull(base: Case, _now: Case) -> Offer | None:
    """Pull that opens it, in whole newtons."""
    given = base.rocket.separation.pull_n
    if given is None:
        return None
    path, now = given.path or "rocket.toml:separation.pull", given.value
    tries = [float(round(now * factor)) for factor in PULLS]
    return numbers(
        now, steps(5.0, 80.0, 1.0),
        lambda case, newton: with_separation(case, pull_n=_read(given, _said_pull(newton))),
        lambda newton: ((path, _said_pull(newton).text),),
        lambda newton: said(
            f"{'loosen' if newton < now else 'tighten'} the separation to {{pull}}",
            pull=(newton, "force"),
        ),
        tries,
    )  # fmt: skip


def _pins(base: Case, _now: Case) -> Offer | None:
    separation = base.rocket.separation
    if separation.pull_n is None:
        return None
    now = separation.pins
    return numbers(
        float(now), (float(count) for count in range(MAX_PINS + 1)),
        lambda case, count: with_separation(case, pins=round(count)),
        lambda count: (("rocket.toml:separation.pins", f"{count:g}"),),
        lambda count: said("{count} shear pins", count=(count, "count")),
        [float(n) for n in (now - 1, now + 1) if 0 <= n <= MAX_PINS and now],
        f"shear pins {separation.pin_thread}",
    )  # fmt: skip


def _said_powder(own: Figure, powder_kg: float) -> Stated:
    return stated(powder_kg, own.sigma * powder_kg / own.value, "g", 1e-3)


def _powder(base: Case, _now: Case) -> Offer | None:
    """Powder of the rocket's own charge, from half to twice."""
    own = base.rocket.separation.powder_kg
    if own is None or own.value <= 0.0:
        return None
    values = [v * 1e-3 for v in steps(round(500 * own.value, 1), round(2000 * own.value, 1), 0.1)]
    return numbers(
        own.value, values,
        lambda case, mass_kg: with_separation(
            case, powder_kg=_read(own, _said_powder(own, mass_kg))
        ),
        lambda mass_kg: ((own.path, _said_powder(own, mass_kg).text),),
        lambda mass_kg: said("{powder} of powder", powder=(mass_kg, "mass")),
        [round(factor * own.value, 6) for factor in PULLS],
    )  # fmt: skip


def _stronger(*fields: str) -> Callable[[Case, Case], Offer | None]:
    """What holds, times a factor; only where every figure is given."""

    def offer(base: Case, _now: Case) -> Offer | None:
        given = {name: getattr(base.rocket.separation, name) for name in fields}
        if any(figure is None for figure in given.values()):
            return None

        def times(factor: float) -> dict[str, Stated]:
            return {n: stated(factor * f.value, factor * f.sigma, "N") for n, f in given.items()}

        def make(case: Case, factor: float) -> Case:
            return with_separation(
                case, **{n: _read(given[n], s) for n, s in times(factor).items()}
            )

        def writes(factor: float) -> tuple[Write, ...]:
            return tuple((given[n].path, s.text) for n, s in times(factor).items())

        title = _TITLES[fields[0]]
        return numbers(
            1.0, STRONGER, make, writes, lambda f: said(title, factor=(f, "ratio")), STRONGER[:1]
        )

    return offer


def _retainer(base: Case, _now: Case) -> Offer | None:
    """A screwed retainer where friction, clips or nothing that is said holds the motor."""
    separation = base.rocket.separation
    if separation.retention == "cap":
        return None
    holds = stated(RETAINER_N, RETAINER_SIGMA_N, "N")
    figure = Figure(holds.value, holds.sigma, "guess", "rocket.toml:retention.holds")
    return once(
        said("glue on a screwed motor retainer that holds {force}", force=(RETAINER_N, "force")),
        lambda case: with_separation(case, retention="cap", retention_n=figure),
        ("rocket.toml:retention.kind", "cap"), ("rocket.toml:retention.holds", holds.text),
        name="fitted",
    )  # fmt: skip


_TITLES: Final = {
    "fore_anchor_n": "reinforce both cord attachments to {factor} times their strength",
    "bulkhead_n": "reinforce the bulkhead ahead of the bay to {factor} times its strength",
    "fixed_joint_n": "fasten the joint that must stay {factor} times as strongly: more rivets",
    "retention_n": "use a motor retainer that holds {factor} times as much",
}
_HOLDS: Final[tuple[tuple[str, str, Cost, tuple[str, ...], tuple[str, ...]], ...]] = (
    ("anchors", "strength of the cord attachments", "evening",
     ("fore_anchor_n", "aft_anchor_n"), ("snatch_anchor",)),
    ("bulkhead", "strength of the bulkhead ahead of the bay", "evening",
     ("bulkhead_n",), ("charge_strong",)),
    ("fixed", "strength of the joint that must stay", "minutes",
     ("fixed_joint_n",), ("charge_strong",)),
    ("retention", "strength of the motor's retention", "purchase",
     ("retention_n",), ("motor_pushed_out",)),
)  # fmt: skip

LEVERS: Final = (
    Lever("pull", "pull to separate", "force", "minutes", _pull,
          "add tape, or remove tape or sand, then pull again with the scale", _WINDOW_ROWS, False,
          slider=True),
    Lever("pins", "shear pins", "count", "minutes", _pins, "one pin fewer or more", _WINDOW_ROWS,
          False, slider=True),
    Lever("powder", "powder of your own charge", "mass", "minutes", _powder,
          "with a ground test again", _CHARGE_ROWS, False, slider=True, caution="powder"),
    Lever("retainer", "screwed motor retainer", "", "purchase", _retainer,
          "a few tens of grams at the tail: balance again; push the empty case against a scale",
          ("motor_pushed_out", "retainer_overhang"), False),
    *(
        Lever(key, label, "ratio", cost, _stronger(*fields), helps=rows, flies=False)
        for key, label, cost, fields, rows in _HOLDS
    ),
)  # fmt: skip
