"""What of a rocket's parts can be written and is probably not meant, seen over several of them.

Answers whether it separates where two parts of its body meet, whether what closes a part is
weighed, whether a canopy's shape is said, and whether the edge that the cord runs over is that of
its tube, and whether an entry is read. Whether parts fit into each other is in `fit_checks`.
"""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from goodflight.project.fit_checks import Doubt, doubts_of_parts
from goodflight.project.parts import OUTER
from goodflight.project.rocket_file import RocketHead
from goodflight.quantity.said import literal, said

OF_TUBES: Final = {  # edges that only such a tube has; a paper tube's may be glassed or lined
    "glass": ("glass_epoxy",),
    "phenolic": ("paper_phenolic", "glass_epoxy"),
}
NEAR_JOINT_M: Final = 0.003  # a tape held to the rocket and one held to the tube: our guess


def doubts_of_rocket(
    head: RocketHead, tables: list[Any], stations: Mapping[str, float]
) -> Iterator[Doubt]:
    """Return what is doubtful of a rocket: its separations, its masses, how parts go together."""
    yield from _separations(head, tables, stations)
    yield from _edge(head, tables, stations)
    yield from _unweighed(tables)
    yield from _unshaped(tables)
    yield from _unread(tables)
    yield from doubts_of_parts(tables, stations)


def _separations(
    head: RocketHead, tables: list[Any], stations: Mapping[str, float]
) -> Iterator[Doubt]:
    """A body parts where two of its parts meet; one tube does not come apart in its middle."""
    body = [each for each in tables if each.kind in OUTER and each.name in stations]
    ends = {each.name: stations[each.name] + each.length.value for each in body}
    tail = max(ends.values(), default=0.0)
    meet = [end for end in ends.values() if end < tail - NEAR_JOINT_M]
    for key, at in (
        ("separates_at", head.separates_at),
        ("main_separation.at", head.main_separation.at),
    ):
        if at is None or any(abs(end - at.value) <= NEAR_JOINT_M for end in meet):
            continue
        across = next((t for t in body if stations[t.name] <= at.value < ends[t.name]), None)
        if across is None:
            continue
        words = f"it separates at {{at}}, inside {literal(across.name)}, which is one piece"
        if not meet:
            yield Doubt(key, said(f"{words}: list the two parts", at=(at.value, "length")))
            continue
        near = min(meet, key=lambda end: abs(end - at.value))
        words += "; parts of the body meet at {near}: give that, or list what slides apart as two"
        yield Doubt(key, said(words, at=(at.value, "length"), near=(near, "length")))


def _edge(head: RocketHead, tables: list[Any], stations: Mapping[str, float]) -> Iterator[Doubt]:
    """An edge of a firmer tube than the one that is there hides that the cord slits it."""
    at, edge = head.separates_at, head.separation.edge
    fit = OF_TUBES.get(edge or "")
    if at is None or fit is None:
        return
    for tube in (each for each in tables if each.kind == "tube"):
        meets = abs(stations[tube.name] - at.value) <= NEAR_JOINT_M
        if meets and isinstance(tube.material, str) and tube.material not in fit:
            made = tube.material.replace("_", " ")
            words = f"the edge the cord runs over is said to be {edge}, {literal(tube.name)} {made}"
            yield Doubt("separation.edge", said(f"{words}: give the edge of that tube"))


def _unweighed(tables: list[Any]) -> Iterator[Doubt]:
    """Bulkheads and plates without a size weigh what the scale says, and nothing before that."""
    for each in tables:
        if each.mass is None and each.kind == "coupler" and each.bulkheads:
            inside = "bulkheads and bolt count"
        elif each.mass is None and each.kind == "nose" and each.plate:
            inside = "plate counts"
        else:
            continue
        words = (
            f"{literal(each.name)}: its mass is worked out from its wall; its {inside} for nothing "
            "until it is weighed"
        )
        yield Doubt(f"part[{each.name}].mass", said(words))


def _unshaped(tables: list[Any]) -> Iterator[Doubt]:
    """A width says how much cloth there is only together with the shape."""
    for each in tables:
        said_area = each.kind != "canopy" or each.across is None or each.cloth_area is not None
        if said_area or "shape" in each.model_fields_set:
            continue
        words = (
            f"{literal(each.name)}: its shape is not said, a flat hexagon is taken; across flats "
            "an octagon has 4 % less cloth, and lands harder"
        )
        yield Doubt(f"part[{each.name}].shape", said(words))


def _unread(tables: list[Any]) -> Iterator[Doubt]:
    """Air is measured for the vents of a barometer; a charge goes by sizes and what is packed."""
    for each in tables:
        if each.kind == "bay" and each.free_volume is not None and not each.electronics:
            words = (
                f"{literal(each.name)}: its air is entered, and is read of a bay with electronics "
                "only; the gas of a charge goes by the bay's length and what it holds"
            )
            yield Doubt(f"part[{each.name}].free_volume", said(words))
