"""Why a later range day helps no more than launch day did: what holds those not ready."""

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from goodflight.studies.calendar.chance import Policy, finish_of
from goodflight.studies.calendar.clash import rules_of
from goodflight.studies.calendar.problem import Ints
from goodflight.studies.calendar.results import LaunchChance
from goodflight.studies.calendar.setting import Builds, Setting


def explained(
    setting: Setting,
    policy: Policy,
    builds: Builds,
    finish: Ints,
    chances: tuple[LaunchChance, ...],
    numbers: list[int],
) -> tuple[LaunchChance, ...]:
    """Chances, each that shows the figure of the day before it with the reason.

    finish : day ready to fly of every draw; numbers : of the days of the chances.
    """
    found = list(chances[:1])
    freed: dict[str, Ints] = {}  # day ready to fly without one rule
    for n in range(1, len(chances)):
        one = chances[n]
        if round(100 * one.chance) != round(100 * chances[n - 1].chance):
            found.append(one)
            continue
        stuck = finish > numbers[n]
        if stuck.any() and not freed:
            for name, told in rules_of(setting):
                if name != "order":
                    less = replace(setting, relaxed=setting.relaxed | {name})
                    freed[told] = finish_of(less, policy, builds)
        found.append(replace(one, why=_why(stuck, freed, numbers[n])))
    return tuple(found)


def _why(stuck: NDArray[np.bool_], freed: dict[str, Ints], number: int) -> str:
    count = int(stuck.sum())
    if not count:
        return "every draw is ready already"
    left = f"{count} build{'' if count == 1 else 's'} not ready on either day"
    free = {told: int(np.sum(stuck & (finish <= number))) for told, finish in freed.items()}
    most = max(free, key=lambda told: free[told], default="")
    if not most or not free[most]:
        return f"{left}, and no rule of the plan alone holds them"
    return f"{left}; held by {most} (without that, {free[most]} of them are ready)"
