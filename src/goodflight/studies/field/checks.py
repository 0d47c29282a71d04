"""What one hour's flight is held against: own limits, the code's rules, the chance agreed.

Every check says what was found, what is allowed, where that comes from, and what would turn it.
Unknown is never ok: a limit that was not agreed, a weather figure not measured, and a way to fail
that is not known each keep an hour from being good.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, Final, Literal

from goodflight.physics.air.aloft import wind_at_m_s
from goodflight.project.day_file import OwnLimitsTable
from goodflight.quantity import Quantity
from goodflight.quantity.said import Said, literal, said
from goodflight.studies.case.planned import Case
from goodflight.studies.field.together import Judged
from goodflight.studies.judging.chance import FAILS_ABOVE, TOTAL_FAILS_ABOVE
from goodflight.studies.judging.evaluate import Evaluated
from goodflight.studies.judging.plan import Plan, judged_alone

Held = Literal["ok", "not ok", "unknown"]
WIND_HEIGHT_M: Final = 2.0
WEATHER: Final = {
    "wind": "mean wind",
    "gust": "gust",
    "wind_from": "where the wind comes from",
    "cloud_base": "cloud base",
}  # without these nobody says go
Limit = Quantity | None
OWN: Final = "agreed beforehand"
SKY: Final = frozenset(("own_cloud_base", "cloud_base", "cloud_cover", "own_cold", "own_warm"))


@dataclass(frozen=True)
class Check:
    """One thing an hour is held against."""

    key: Annotated[str, "name of the check, or key of the row"]
    title: Annotated[str, "what is checked"]
    found: Annotated[Said, "what was found"]
    limit: Annotated[Said, "what is allowed"]
    held: Annotated[Held, "ok, not ok or unknown; unknown is never ok"]
    source: Annotated[str, "where the limit comes from"]
    turns: Annotated[Said, "what would turn it; empty where it is ok"]


def checks_of(
    case: Case, found: Judged, limits: OwnLimitsTable | None, measured: frozenset[str] | None
) -> tuple[tuple[Check, ...], Plan]:
    """Everything one hour's flight is held against, and the plan's judgement.

    measured : which weather figures were measured; None = a forecast, which counts as told.
    """
    plan = judged_alone(found.rows, found.view.count, margins=False)
    checks = [
        *_weather(measured, limits),
        *_own(case, limits, measured),
        _chance(plan, found.view.count, limits, mostly(found)),
        *_rules(found.rows, plan),
        *_unknown(found.rows, plan),
    ]
    return tuple(checks), plan


def _weather(measured: frozenset[str] | None, limits: OwnLimitsTable | None) -> list[Check]:
    """What was not measured, where no own limit says so itself."""
    own = limits or OwnLimitsTable()
    says = {"wind": own.wind, "gust": own.gust, "cloud_base": own.cloud_base}
    missing = [
        key
        for key in WEATHER
        if measured is not None and key not in measured and says.get(key) is None
    ]
    return [
        Check(
            key=key,
            title=WEATHER[key].capitalize(),
            found=said("not measured"),
            limit=said("measured at the pad"),
            held="unknown",
            source="the day",
            turns=said(f"measure it: {WEATHER[key]}"),
        )
        for key in missing
    ]


def _own(case: Case, limits: OwnLimitsTable | None, measured: frozenset[str] | None) -> list[Check]:
    """Own limits; one that was not agreed is unknown."""
    if limits is None:
        return [_not_agreed("limits", "Own limits")]
    day, unit = case.day, "wind"
    height = WIND_HEIGHT_M if limits.wind_height is None else limits.wind_height.value
    there = wind_at_m_s(day.wind_m_s, day.wind_height_m, day.wind_exponent, height)

    def known(key: str) -> bool:
        return measured is None or key in measured

    found = [
        _most(
            "own_wind",
            "Mean wind",
            there if known("wind") else None,
            limits.wind,
            kind=unit,
            turns="wait until the wind is {limit} or less",
        ),
        _most(
            "own_gust",
            "Gust",
            there * day.gust_factor if known("gust") else None,
            limits.gust,
            kind=unit,
            turns="wait until gusts stay below {limit}",
        ),
        _least(
            "own_cloud_base",
            "Cloud base",
            day.cloud_base_m if known("cloud_base") else None,
            limits.cloud_base,
            kind="length",
            turns="wait until the cloud is at {limit} or higher",
        ),
    ]
    warmth = day.temperature_k if known("temperature") else None
    found += _own_if_agreed(case, limits, warmth)
    if not (limits.signed_by and limits.signed_on):
        found.append(_not_agreed("signed", "Own limits, signed"))
    return found


def _own_if_agreed(case: Case, limits: OwnLimitsTable, warmth: float | None) -> list[Check]:
    """Limits that may stay away: without one nothing is asked."""
    cold, warm, wait = limits.coldest, limits.warmest, limits.wait
    cooler, warmer = "wait until it is {limit} or cooler", "wait until it is {limit} or warmer"
    sooner, on_pad = "switch on later: {limit} before ignition at most", case.deployment.pad_wait_s
    air, kind = "Air temperature", "temperature"
    held = (
        (cold, _least("own_cold", air, warmth, cold, kind=kind, turns=warmer)),
        (warm, _most("own_warm", air, warmth, warm, kind=kind, turns=cooler)),
        (wait, _most("own_wait", "Wait on the pad", on_pad, wait, kind="time", turns=sooner)),
    )
    return [check for limit, check in held if limit is not None]


AGREE: Final = said("agree and sign them before the day, in day.toml: [limits]")


def _not_agreed(key: str, title: str) -> Check:
    return Check(
        key=key,
        title=title,
        found=said("not agreed"),
        limit=said("agreed and signed"),
        held="unknown",
        source=OWN,
        turns=AGREE,
    )


def _most(key: str, title: str, value: float | None, limit: Limit, kind: str, turns: str) -> Check:
    return _bound(key, title, value, limit, kind=kind, turns=turns, most=True)


def _least(key: str, title: str, value: float | None, limit: Limit, kind: str, turns: str) -> Check:
    return _bound(key, title, value, limit, kind=kind, turns=turns, most=False)


def _bound(
    key: str, title: str, value: float | None, limit: Limit, kind: str, turns: str, most: bool
) -> Check:
    """One own limit: a highest or a lowest value."""
    bound = None if limit is None else limit.value
    if bound is None:
        return _not_agreed(key, title)
    shown = said(("at most" if most else "at least") + " {limit}", limit=(bound, kind))
    if value is None:
        act = said(f"measure it at the pad: {title[0].lower()}{title[1:]}")
        return Check(
            key=key,
            title=title,
            found=said("not measured"),
            limit=shown,
            held="unknown",
            source=OWN,
            turns=act,
        )
    good = value <= bound * (1.0 + 1e-9) if most else value >= bound * (1.0 - 1e-9)
    act = said("") if good else said(turns, limit=(bound, kind))
    return Check(
        key=key,
        title=title,
        found=said("{value}", value=(value, kind)),
        limit=shown,
        held="ok" if good else "not ok",
        source=OWN,
        turns=act,
    )


def in_100(share: float) -> str:
    """A share as flights of a hundred."""
    return f"{100.0 * share:.0f} in 100" if share >= 0.005 or share <= 0.0 else "under 1 in 100"


def bound_of(limits: OwnLimitsTable | None) -> float:
    """The chance agreed that anything fails, else the ledger's."""
    agreed = None if limits is None else limits.chance
    return TOTAL_FAILS_ABOVE if agreed is None else agreed.value


def _chance(
    plan: Plan, flights: int, limits: OwnLimitsTable | None, most: Sequence[tuple[str, str, float]]
) -> Check:
    """The chance that anything fails, against the one agreed, else as the ledger judges."""
    agreed = None if limits is None or limits.chance is None else limits.chance.value
    total, bound = plan.total, bound_of(limits)
    told = said(
        f"{in_100(total.chance)} ({100.0 * total.low:.0f} to {100.0 * total.high:.0f}, "
        f"{flights} flights)"
    )
    if agreed is None:
        held: Held = {"fails": "not ok", "unknown": "unknown"}.get(plan.state, "ok")  # type: ignore[assignment]
        allowed = f"at most {in_100(bound)}, and no row above {in_100(FAILS_ABOVE)}"
        source = "the ledger"
    else:
        held = "not ok" if total.chance > bound else "ok"
        allowed, source = f"at most {in_100(bound)}", OWN
    title = "Chance that the flight fails"
    if held == "ok" and total.high > bound:
        close = said(
            f"{flights} flights cannot tell {100.0 * total.chance:.0f} from "
            f"{100.0 * bound:.0f} in 100: treat as over the limit"
        )
        return Check(
            key="chance",
            title=title,
            found=told,
            limit=said(allowed),
            held="unknown",
            source=source,
            turns=close,
        )
    rows = ", ".join(f"{title[0].lower()}{title[1:]} {in_100(share)}" for _, title, share in most)
    turn = said("" if held == "ok" else f"less of what fails most: {rows}" if rows else "less wind")
    return Check(
        key="chance",
        title=title,
        found=told,
        limit=said(allowed),
        held=held,
        source=source,
        turns=turn,
    )


def _rules(rows: Sequence[Evaluated], plan: Plan) -> list[Check]:
    """Rules of the code and of practice that are not met, or not answered."""
    found = []
    for row in rows:
        key = row.limit.key
        if key in plan.unmet:
            share = float(row.failing.mean())
            found.append(
                Check(
                    key=key,
                    title=row.limit.title,
                    found=said(f"in {in_100(share).replace(' in ', ' of ')} flights"),
                    limit=said(f"at most {in_100(FAILS_ABOVE)}"),
                    held="not ok",
                    source=_whose(row),
                    turns=said(_TURNS.get(key, "nothing on the field; see the ledger")),
                )
            )
        elif key in plan.open:
            found.append(
                Check(
                    key=key,
                    title=row.limit.title,
                    found=said("not answered"),
                    limit=said("must be met"),
                    held="unknown",
                    source=_whose(row),
                    turns=said(literal(row.missing)),
                )
            )
    return found


def _whose(row: Evaluated) -> str:
    return "the code" if row.limit.phase == "code" else "practice"


_TURNS: Final = {
    "wind_limit": "wait until the wind is below the code's limit",
    "cloud_base": "wait until the cloud lifts, or fly lower",
    "cloud_cover": "wait until less of the sky is covered",
    "rail_angle": "stand the rail more upright",
    "ceiling": "fly a smaller motor",
    "unopened_reach": "lean the rail another way, or fly lower",
}


def _unknown(rows: Sequence[Evaluated], plan: Plan) -> list[Check]:
    """Failures of the flight that are not known."""
    return [
        Check(
            key=row.limit.key,
            title=row.limit.title,
            found=said("not known"),
            limit=said("must be known"),
            held="unknown",
            source="the ledger",
            turns=said(literal(row.missing)),
        )
        for row in rows
        if row.limit.key in plan.unknown
    ]


def mostly(found: Judged, least: float = 0.02) -> tuple[tuple[str, str, float], ...]:
    """Failures of the flight by chance, the highest first: key, title, share."""
    rows = [
        (row.limit.key, row.limit.title, float(row.failing.mean()))
        for row in found.rows
        if row.known and row.limit.kind == "failure" and row.failing.mean() > least
    ]
    return tuple(sorted(rows, key=lambda row: -row[2])[:3])


def wrong_of(checks: Sequence[Check]) -> list[Check]:
    """What is not ok."""
    return [each for each in checks if each.held == "not ok"]


def forbids(checks: Sequence[Check]) -> list[Check]:
    """What forbids a flight but for the sky, which a wind does not turn."""
    return [each for each in wrong_of(checks) if each.key not in SKY]


def numbered(words: Said, i: int, mark: str, into: dict[str, tuple[float, str]]) -> str:
    """A sentence as part of another: its figures under names of their own."""
    text = words.text
    for name, figure in words.figures.items():
        text = text.replace("{" + name + "}", "{" + f"{mark}{i}{name}" + "}")
        into[f"{mark}{i}{name}"] = figure
    return text


def told_of(check: Check) -> Said:
    """A check in one sentence: "chance that the flight fails: 31 in 100, at most 25"."""
    figures: dict[str, tuple[float, str]] = {}
    return Said(stated(check, 0, figures), figures)


def stated(check: Check, i: int, figures: dict[str, tuple[float, str]]) -> str:
    """A check as part of a longer sentence, the i-th of it."""
    return (
        f"{check.title[0].lower()}{check.title[1:]}: {numbered(check.found, i, 'f', figures)}, "
        f"{numbered(check.limit, i, 'l', figures)}"
    )


def signed_of(limits: OwnLimitsTable | None) -> str:
    """Who signed the own limits, and when; empty = nobody."""
    if limits is None or not (limits.signed_by and limits.signed_on):
        return ""
    return f"{limits.signed_by}, {limits.signed_on}"


def limits_of(limits: OwnLimitsTable | None) -> tuple[Said, ...]:
    """The own limits that were agreed, a few words each."""
    if limits is None:
        return ()
    height = WIND_HEIGHT_M if limits.wind_height is None else limits.wind_height.value
    bounds = (
        ("wind at most {x} mean at {height}", limits.wind, "wind"),
        ("gusts at most {x}", limits.gust, "wind"),
        ("cloud base at least {x}", limits.cloud_base, "length"),
        ("air at least {x}", limits.coldest, "temperature"),
        ("air at most {x}", limits.warmest, "temperature"),
        ("wait on the pad at most {x}", limits.wait, "time"),
    )
    told = [
        said(words, x=(bound.value, kind), height=(height, "length"))
        for words, bound, kind in bounds
        if bound is not None
    ]
    if limits.chance is not None:
        told.append(said(f"at most {in_100(limits.chance.value)} fail"))
    return tuple(told)
