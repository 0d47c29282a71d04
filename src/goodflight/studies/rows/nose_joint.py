"""The joint of the nose: whether it must stay, whether the gas stands on it, what pulls on it."""

from goodflight.physics.vehicle.parts import Bay, Bulkhead, Coupler, Nose, Rocket
from goodflight.studies.asking import asked, entry, weighed_alone
from goodflight.studies.case.planned import one_part, whole_of
from goodflight.studies.sampling.quantity import Missing

SAME_PLACE_M = 0.005  # stations of one joint


def nose_stays(rocket: Rocket) -> bool:
    """Whether the rocket separates behind the nose's joint, which then must stay.

    Where it is there that it parts for a second canopy, what holds it is a row of that canopy.
    """
    nose, at, main = one_part(rocket, Nose), rocket.separation_station_m, rocket.main_station_m
    if nose is None or at is None or at <= nose.length_m + SAME_PLACE_M:
        return False
    return main is None or abs(main - nose.length_m) > SAME_PLACE_M


def gas_on_nose(rocket: Rocket, bay: Bay) -> bool:
    """Whether the charge of a bay pushes on the nose: no bulkhead is listed between the two."""
    nose = one_part(rocket, Nose)
    behind = 0.0 if nose is None else nose.length_m + nose.shoulder_length_m
    closes = (
        part.station_m
        for part in rocket.parts
        if (isinstance(part, Bulkhead) and part.station_m >= behind)  # else the nose's own plate
        or (isinstance(part, Coupler) and part.bulkheads)
    )
    return not any(station < bay.station_m + SAME_PLACE_M for station in closes)


def no_nose_mass(rocket: Rocket) -> Missing | None:
    """What is missing where nobody says what the nose weighs: it is given 0 g."""
    nose = one_part(rocket, Nose)
    if nose is None or nose.mass_kg != 0.0:
        return None
    if whole_of(rocket) is not None:
        how = "lay it alone on the scale; its mass comes out of the whole"
        return asked(
            f"weigh {nose.name} alone: {how.partition('; ')[2]}", weighed_alone(nose.name, how)
        )
    home, label = f"rocket.toml:part[{nose.name}].mass", f"mass of {nose.name}"
    box = entry(
        home,
        label,
        how="weigh it",
        dimension="mass",
        instrument="kitchen scale",
        minutes=5.0,
    )
    return asked(f"weigh {nose.name} and give its mass", box)
