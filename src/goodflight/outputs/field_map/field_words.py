"""Where flights come down, in sentences: off the field by side, unopened, one flight."""

import math
from typing import Final

from goodflight.quantity import show
from goodflight.studies.questions.landings import Landings, direction
from goodflight.studies.questions.one_flight import OneFlight

SAFETY: Final = (
    "Keep people and cars out of the line and watch every flight. An unopened rocket falls at "
    "angles of attack the model does not cover, so the line is rough; the range safety officer "
    "decides distances."
)


def landed_words(landings: Landings, units: str = "metric") -> str:
    """How many landings leave the field, by the side they leave it; what to enter when unknown."""
    if len(landings.outline_m) < 3:
        return (
            f"The outline of {landings.site} is not known, so no landing counts as on the field "
            "or off it. Walk its corners and enter them in the Ledger, at the row that waits for "
            "the outline of the field."
        )
    off = int(landings.off_field.sum())
    if not off:
        said = f"All {landings.flights} simulated landings under parachute are inside the field"
    else:
        said = f"{off} of {landings.flights} simulated landings under parachute are outside it"
        said += ": " + ", ".join(f"{each.count} {each.words}" for each in landings.over)
    held = int((landings.barred & ~landings.off_field).sum())
    if held:
        said += f"; {held} more on it where they must not"
    said += ". Impacts without one: see below"
    if landings.worst_rad is None:
        return said + "."
    return f"{said}. The worst side is {toward_words(landings.worst_rad)} of the pad."


def unopened_words(landings: Landings, units: str = "metric") -> str:
    """Where the rocket comes down when nothing opens, and what that means for people."""
    if landings.unopened_m is None or landings.unopened_rad is None:
        return ""
    count = len(landings.ballistic_east_m)
    return (
        f"If no parachute opens: {100 * (count - landings.past_line) / count:.0f} % of "
        f"{count} simulated impacts fall inside the dash-dot line; the furthest comes down "
        f"{show(landings.unopened_m, 'length', units)} from the pad, "
        f"{toward_words(landings.unopened_rad)}. {SAFETY}"
    )


def chosen_words(chosen: OneFlight, units: str = "metric") -> str:
    """Where one flight comes down."""
    east, north = chosen.outcomes["landing_east_m"], chosen.outcomes["landing_north_m"]
    if not math.isfinite(east):
        return "It never comes down: it did not leave the rail, or could not be computed."
    far = show(math.hypot(east, north), "length", units)
    return f"It comes down {far} from the pad, {toward_words(math.atan2(east, north))}."


def toward_words(bearing_rad: float) -> str:
    """A bearing as a compass direction and in degrees, three digits."""
    return f"{direction(bearing_rad)} (bearing {bearing_words(bearing_rad)})"


def bearing_words(bearing_rad: float) -> str:
    """A bearing in degrees, three digits."""
    return f"{round(math.degrees(bearing_rad)) % 360:03d} deg"
