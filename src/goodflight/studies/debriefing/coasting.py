"""Whether something changed the drag of a recorded coast, which one drag fitted to it hides."""

from typing import Final

from goodflight.physics.recorded_coast import apogee_from, changed, coast_of
from goodflight.project.logs.read import LogRead

BEFORE_S: Final = 0.5  # the change, half a second's look: a moment that shows nothing of it


def drag_changed(read: LogRead, rail_rad: float) -> tuple[str, ...]:
    """The change in words, with the apogee there would have been; nothing where one drag holds."""
    coast = coast_of(read.recorded, read.events, rail_rad)
    found = changed(coast) if coast is not None else None
    if coast is None or found is None:
        return ()
    without = apogee_from(coast, found.at_s - BEFORE_S)
    way = "rose" if found.times.value > 1.0 else "fell"
    return (
        f"drag {way} to {found.times.value:.2f} ± {found.times.error:.2f} times at "
        f"{found.at_s:.1f} s, in the coast: something opened, closed or came off. The drag fitted "
        "lies between the two. As before the change, the apogee would have come to about "
        f"{without.value:.0f} ± {without.error:.0f} m in the standard atmosphere",
    )
