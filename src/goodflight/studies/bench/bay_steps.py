"""Steps of the bays: lids of a coupler, what is bolted to them, what is fitted inside, which way.

A lid that is glued closes its end for good; one that comes off again closes nothing. Where the
project does not say which, and something inside is used at every flight, the end that a hand
reaches is taken to come off, and the step says so. A nose comes off: front ends of tubes are open.
"""

from dataclasses import dataclass

from goodflight.physics.vehicle import parts as p
from goodflight.physics.vehicle.part import Part
from goodflight.project.designed import DesignedRocket
from goodflight.studies.bench.gluing import SLOW
from goodflight.studies.bench.making import GLOVES, Makes
from goodflight.studies.bench.order import Reach, Step
from goodflight.studies.bench.places import in_place, of_kind, tube_at

NEAR_M = 0.02  # hardware this near a plate is bolted to it
SEAM_M = 0.005  # how far a lid may stand out of its coupler
HARDWARE = {"u_bolt": "Bolt", "eyebolt": "Bolt", "charge_cup": "Fix"}


@dataclass(frozen=True)
class _Lid:
    """A plate that closes one end of a coupler; told : whether the project says which."""

    name: str
    end: str
    glued: bool
    told: bool = True

    @property
    def bench(self) -> str:
        return f"{self.name} while it is out of the coupler"


def bay_steps(makes: Makes) -> None:
    """Take in the steps of couplers, their lids and what is in them, and sleds elsewhere."""
    for coupler in of_kind(makes.rocket, p.Coupler):
        tube = holder(makes.rocket, coupler)
        if tube is not None:
            _coupler(makes, coupler, tube)
    for plate in of_kind(makes.rocket, p.Bulkhead):
        tube = tube_at(makes.rocket, plate.station_m)
        if tube is not None and not _within(makes.rocket, plate):
            _plate(makes, plate, tube)
    for number, sled in enumerate(_sleds(makes.rocket)):
        _sled(makes, sled, "sled" if number == 0 else f"sled-{sled.name}")


def holder(rocket: DesignedRocket, coupler: p.Coupler) -> p.Tube | None:
    """The tube a coupler is glued into: the one behind the joint where it stays behind."""
    joint = rocket.separation_station_m
    parts_here = joint is not None and coupler.station_m < joint < coupler.end_m
    if parts_here and joint is not None and rocket.separation.coupler_in == "aft":
        return tube_at(rocket, joint)
    return tube_at(rocket, coupler.station_m)


def _sleds(rocket: p.Rocket) -> list[p.AddedMass]:
    return [x for x in of_kind(rocket, p.AddedMass) if x.role == "sled"]


def _overlap(part: Part, other: Part) -> bool:
    return part.station_m < other.end_m and part.end_m > other.station_m


def _within(rocket: p.Rocket, plate: p.Bulkhead) -> bool:
    """Whether a plate is a lid of a coupler or of the nose."""
    nose = any(plate.station_m < n.end_m + n.shoulder_length_m for n in of_kind(rocket, p.Nose))
    return nose or any(_is_lid(plate, coupler) for coupler in of_kind(rocket, p.Coupler))


def _is_lid(plate: p.Bulkhead, coupler: p.Coupler) -> bool:
    return coupler.station_m - SEAM_M <= plate.station_m <= coupler.end_m + SEAM_M


def _end(coupler: p.Coupler, which: str) -> str:
    return f"the {which} end of {coupler.name}"


def _depth_m(coupler: p.Coupler, tube: p.Tube, which: str) -> float:
    """How deep an end lies in its tube from that tube's own end; 0 when it stands out."""
    if which == "front":
        return max(0.0, coupler.station_m - tube.station_m)
    return max(0.0, tube.end_m - coupler.end_m)


def _lids(makes: Makes, coupler: p.Coupler, tube: p.Tube) -> list[_Lid]:
    plates = [b for b in of_kind(makes.rocket, p.Bulkhead) if _is_lid(b, coupler)]
    middle = 0.5 * (coupler.station_m + coupler.end_m)
    if plates:
        found = [
            _Lid(
                b.name,
                _end(coupler, "front" if b.station_m < middle else "rear"),
                b.removable is not True,
                b.removable is not None,
            )
            for b in plates
        ]
    elif coupler.bulkheads:
        found = [
            _Lid(f"{which} lid of {coupler.name}", _end(coupler, which), True, False)
            for which in ("front", "rear")
        ]
    else:
        return []
    used = any(_overlap(sled, coupler) for sled in _sleds(makes.rocket))
    if not used or any(not lid.glued for lid in found):
        return found
    arm = makes.choices.arm_reach_m
    ends = [_end(coupler, x) for x in ("front", "rear") if _depth_m(coupler, tube, x) <= arm]
    off = next((lid for end in ends for lid in found if lid.end == end and not lid.told), None)
    return [_Lid(x.name, x.end, False, False) if x is off else x for x in found]


def _coupler(makes: Makes, coupler: p.Coupler, tube: p.Tube) -> None:
    lids = _lids(makes, coupler, tube)
    glued = [lid for lid in lids if lid.glued]
    loose = [lid for lid in lids if not lid.glued]
    plates = {b.name: b for b in of_kind(makes.rocket, p.Bulkhead)}
    for lid in lids:
        if lid.name in plates:
            _hardware(makes, plates[lid.name], lid.bench)
    if lids:
        _lid_steps(makes, coupler, glued, loose, set(plates))
    arm = makes.choices.arm_reach_m
    deep = [_end(coupler, x) for x in ("front", "rear") if _depth_m(coupler, tube, x) > arm]
    makes.add(
        Step(
            in_place(coupler),
            f"Glue {coupler.name} into {tube.name}",
            rank=36,
            closes=tuple(deep),
            after=(f"mark-{tube.name}",),
            check="straight: roll both tubes together on a flat table; slides in the other tube",
            cautions=(GLOVES,),
            parts=(coupler.name, tube.name),
        ),
        20,
        SLOW,
    )


def _lid_steps(
    makes: Makes, coupler: p.Coupler, glued: list[_Lid], loose: list[_Lid], plates: set[str]
) -> None:
    guessed = [lid.name for lid in loose if not lid.told]
    how = (
        f"{' and '.join(guessed)}: taken to come off again, on rods or screws, because what is "
        "inside is used at every flight; the project does not say (removable of a bulkhead)."
        if guessed
        else ""
    )
    off = " and ".join(lid.name for lid in loose)
    if glued:
        virtual = not any(lid.name in plates for lid in glued)
        names = " and ".join(lid.name for lid in glued)
        title = f"Fit bulkheads and eye bolt in {coupler.name}"
        if virtual and loose:
            title += " (one lid comes off again)"
        makes.add(
            Step(
                f"bulkheads-{coupler.name}",
                title if virtual else f"Glue {names} into {coupler.name}",
                rank=34,
                reaches=(
                    Reach(
                        f"the inner joint of {names}",
                        (_end(coupler, "front"), _end(coupler, "rear")),
                    ),
                )
                if loose
                else (),
                closes=tuple(x for lid in glued for x in (lid.end, lid.bench)),
                how=how,
                check="washers on both sides, nuts locked; a hard pull by hand",
                cautions=(GLOVES,),
                parts=(coupler.name, *(lid.name for lid in glued if lid.name in plates)),
            ),
            20 + 10 * len(glued),
            SLOW,
            (len(glued), "lids"),
        )
    if any(lid.name in plates for lid in loose) or (loose and not glued):
        makes.add(
            Step(
                f"lids-{coupler.name}",
                f"Fit {off} on {coupler.name}, to come off again",
                rank=35,
                tools=("spanner",),
                how=how if not glued else "",
                check="comes off and goes back on; nuts locked; a hard pull by hand",
                parts=(coupler.name, *(lid.name for lid in loose if lid.name in plates)),
            ),
            30,
        )


def _hardware(makes: Makes, plate: p.Bulkhead, door: str) -> None:
    """Bolts and charge cups of a plate: both of its faces are reached on the bench."""
    for part in of_kind(makes.rocket, p.AddedMass):
        near = part.station_m - NEAR_M <= plate.station_m <= part.end_m + NEAR_M
        if part.role in HARDWARE and near and not makes.has(f"hardware-{part.name}"):
            makes.add(
                Step(
                    f"hardware-{part.name}",
                    f"{HARDWARE[part.role]} {part.name} to {plate.name}",
                    rank=33,
                    reaches=(Reach(f"both faces of {plate.name}", (door,)),),
                    tools=("drill", "spanner", "thread lock"),
                    cautions=("blade",),
                    check="washers on both sides, nuts locked; a hard pull by hand"
                    if part.role != "charge_cup"
                    else "wires led through, holes sealed gas-tight",
                    parts=(plate.name,),
                ),
                20,
            )


def _plate(makes: Makes, plate: p.Bulkhead, tube: p.Tube) -> None:
    """A plate across a tube: glued, it shuts the tube off from both of its sides."""
    out = f"{plate.name} while it is out of {tube.name}"
    _hardware(makes, plate, out)
    loose = plate.removable is True
    makes.add(
        Step(
            in_place(plate),
            f"Fit {plate.name} in {tube.name}, to come off again"
            if loose
            else f"Glue {plate.name} into {tube.name}",
            rank=37,
            closes=() if loose else (out,),
            after=(f"mark-{tube.name}",),
            check="at its station, square; a hard push by hand",
            cautions=() if loose else (GLOVES,),
            parts=(plate.name, tube.name),
        ),
        20,
        None if loose else SLOW,
    )


def _sled(makes: Makes, sled: p.AddedMass, key: str) -> None:
    doors, place, warning = _ways_in(makes, sled)
    makes.add(
        Step(
            key,
            f"Fit the {sled.name}",
            rank=62,
            after=("cut-flat",),
            reaches=(Reach(place, doors),) if doors else (),
            warning=warning,
            check="nothing moves when shaken; battery strapped down; switch reachable from outside",
        ),
        60,
    )


def _ways_in(makes: Makes, sled: p.AddedMass) -> tuple[tuple[str, ...], str, str]:
    """Ways to the place of a sled, that place, and what is wrong with it."""
    rocket, arm = makes.rocket, makes.choices.arm_reach_m
    for nose in of_kind(rocket, p.Nose):
        if sled.end_m <= nose.end_m + nose.shoulder_length_m:
            return (f"the open base of {nose.name}",), f"the inside of {nose.name}", ""
    coupler = next((c for c in of_kind(rocket, p.Coupler) if _overlap(sled, c)), None)
    if coupler is not None:
        tube = holder(rocket, coupler)
        shut = {x.end for x in _lids(makes, coupler, tube) if x.glued} if tube else set()
        ends = (_end(coupler, "front"), _end(coupler, "rear"))
        warning = ""
        if shut == set(ends):
            warning = (
                f"both lids of {coupler.name} are glued: the battery of {sled.name} can never be "
                "changed; make one lid removable"
            )
        return ends, f"the inside of {coupler.name}", warning
    tube = tube_at(rocket, sled.station_m)
    if tube is None:
        return (), "", ""
    found = makes.ways_in(tube, sled.station_m, sled.end_m, sled.name)
    if not found:
        deep = f"it lies deeper than {1e3 * arm:.0f} mm (arm_reach) from both ends of {tube.name}"
        return (), "", f"no hand reaches {sled.name}: {deep}"
    return found, f"the place of {sled.name} in {tube.name}", ""


def close_ways(makes: Makes) -> None:
    """Say of each step which ways through a tube it closes: plates, lids of couplers, mount."""
    rocket = makes.rocket
    closers: list[tuple[str, p.Tube | None, Part]] = [
        (in_place(plate), tube_at(rocket, plate.station_m), plate)
        for plate in of_kind(rocket, p.Bulkhead)
        if plate.removable is not True
    ]
    for coupler in of_kind(rocket, p.Coupler):
        tube = holder(rocket, coupler)
        if tube is not None and any(lid.glued for lid in _lids(makes, coupler, tube)):
            closers.append((in_place(coupler), tube, coupler))
    for ring in of_kind(rocket, p.Ring):
        late = in_place(ring)
        key = (
            late
            if any(s.key == late and "mount-in" in s.after for s in makes.steps)
            else "mount-in"
        )
        closers.append((key, tube_at(rocket, ring.station_m), ring))
    for way in makes.ways:
        shut = (
            key
            for key, tube, part in closers
            if tube is way.tube
            and (part.station_m < way.station_m if way.front else part.end_m > way.station_m)
        )
        for key in dict.fromkeys(shut):
            makes.close(key, way.door)
