"""What to cut, to which size, and what to buy for it."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Annotated, ClassVar

from goodflight.physics.vehicle import parts as p
from goodflight.project.designed import DesignedRocket
from goodflight.quantity.said import Said, literal, said
from goodflight.studies.bench.choices import Choices
from goodflight.studies.bench.fits import Fit, fits
from goodflight.studies.bench.nesting import CutSheet, cut_sheets, too_large
from goodflight.studies.bench.places import of_kind
from goodflight.studies.bench.shapes import Template

NO_PIECE = ("paint", "fillets", "sled", "ballast", "whole")  # roles of what nobody buys so
TRIM_M = 0.010  # of every bought tube, to square its end
SPARE = 1.05  # cord and cloth


@dataclass(frozen=True)
class Cut:
    """One line of the cut list; lengths are finished sizes."""

    HEADING: ClassVar = "cut piece"  # in docs/json.md; another record bears the name
    name: Annotated[str, "of the piece"]
    count: Annotated[int, "how many"]
    material: Annotated[str, "what it is cut from"]
    length_m: Annotated[float, "finished length [m]"]
    width_m: Annotated[float | None, "finished width [m]; null = does not apply"] = None
    thickness_m: Annotated[float | None, "of the material [m]; null = does not apply"] = None
    diameter_m: Annotated[float | None, "outside [m]; null = does not apply"] = None
    source: Annotated[str, "from which tube or panel"] = ""
    sizes_m: Annotated[tuple[float, ...], "of that tube: outside and inside [m]"] = ()


@dataclass(frozen=True)
class Buy:
    """One line of the shopping list."""

    what: Annotated[str, "what to buy"]
    amount: Annotated[float, "how much; 0 = not known"]
    unit: Annotated[str, "m, sheets, pieces, kg or cans"]
    why: Annotated[Said, "what it is for, or how much is spare"]
    each: Annotated[float | None, "your price of one; null = not entered"] = None
    sizes_m: Annotated[
        tuple[float, ...],
        "by which it is bought: outside and inside of a tube; thickness, length, width of a panel "
        "[m]",
    ] = ()

    @property
    def called(self) -> str:
        """What to buy with its sizes in millimetres, as a price names it."""
        return sized(self.what, [f"{1e3 * size:.4g}" for size in self.sizes_m], "mm")

    @property
    def cost(self) -> float | None:
        """What the line costs, None where its price or its amount is not known."""
        known = self.each is not None and self.amount > 0.0
        return (self.each or 0.0) * self.amount if known else None


def sized(what: str, sizes: Sequence[str], unit: str) -> str:
    """A tube by both diameters, a panel by thickness and sides, anything else by its name."""
    if len(sizes) == 3:
        thick, long, wide = sizes
        return f"{what}, {thick} {unit}, {long} x {wide} {unit}"
    return f"{what}, {' / '.join(sizes)} {unit}" if sizes else what


@dataclass(frozen=True)
class CutList:
    """All cuts, what to buy, and the sheets with the pieces on them."""

    rocket: Annotated[str, "name of the rocket"]
    kerf_m: Annotated[float, "width of the cut [m]"]
    cuts: Annotated[tuple[Cut, ...], "every piece to cut"]
    buys: Annotated[tuple[Buy, ...], "what to buy for it"]
    sheets: Annotated[tuple[CutSheet, ...], "the sheets with the pieces on them"]
    invented: bool = False
    money: str = ""  # that prices are in
    left_out: Annotated[
        tuple[str, ...],
        "pieces on no sheet, and a guide that cannot be made: why and what to do",
    ] = ()
    fits: Annotated[tuple[Fit, ...], "shoulder and couplers in their tubes, with limits"] = ()

    @property
    def cost(self) -> tuple[float, int]:
        """What the lines with a price come to, and how many lines those are."""
        known = [buy.cost for buy in self.buys if buy.cost is not None]
        return sum(known), len(known)


def _tubes(rocket: p.Rocket) -> list[Cut]:
    found = []
    tubes: list[p.Tube | p.Coupler | p.MotorTube] = [
        *of_kind(rocket, p.Tube),
        *of_kind(rocket, p.Coupler),
        *of_kind(rocket, p.MotorTube),
    ]
    for tube in tubes:
        material = tube.material.name.replace("_", " ") if tube.material else "tube"
        found.append(
            Cut(
                tube.name,
                1,
                material,
                tube.length_m,
                diameter_m=tube.outer_diameter_m,
                source=material,
                sizes_m=(tube.outer_diameter_m, tube.inner_diameter_m),
            )
        )
    return found


def _flat(sheets: Sequence[CutSheet]) -> list[Cut]:
    found: dict[str, Cut] = {}
    for sheet in sheets:
        for laid in sheet.laid:
            t, b = laid.template, laid.template.bounds
            found.setdefault(
                t.key,
                Cut(
                    name=t.title,
                    count=t.count,
                    material=sheet.material,
                    length_m=b.width_m,
                    width_m=b.height_m,
                    thickness_m=sheet.thickness_m,
                    diameter_m=None,
                    source=f"cut sheet {sheet.number}",
                ),
            )
    return list(found.values())


def _unlaid(templates: Sequence[Template]) -> list[Cut]:
    return [
        Cut(
            name=t.title,
            count=t.count,
            material=t.material,
            length_m=t.bounds.width_m,
            width_m=t.bounds.height_m,
            thickness_m=t.thickness_m,
            diameter_m=None,
            source="on no cut sheet, see below",
        )
        for t in templates
    ]


def _size(canopy: p.Canopy) -> Said:
    """How large a canopy is, as it was measured."""
    more = ", or cloth and lines to sew it"
    if canopy.across_m > 0.0:
        across = " ".join(filter(None, ("{across}", canopy.way)))
        return said(f"{across}{more}", across=(canopy.across_m, "length"))
    return said(f"{{cloth}} of cloth{more}", cloth=(canopy.cloth_area_m2, "area"))


def _buys(
    rocket: p.Rocket, tubes: Sequence[Cut], sheets: Sequence[CutSheet], kerf: float
) -> list[Buy]:
    found = []
    for source, sizes in dict.fromkeys((cut.source, cut.sizes_m) for cut in tubes):
        here = [cut for cut in tubes if (cut.source, cut.sizes_m) == (source, sizes)]
        need = sum(cut.length_m for cut in here) + len(here) * kerf + TRIM_M
        names = ", ".join(cut.name for cut in here)
        found.append(
            Buy(
                source if "tube" in source else f"tube, {source}",
                need,
                "m",
                said(f"{literal(names)}; kerf and a trimmed end added"),
                sizes_m=sizes,
            )
        )
    kinds = dict.fromkeys(
        (s.material, s.thickness_m, s.stock.width_m, s.stock.height_m) for s in sheets
    )
    for material, thick, wide, high in kinds:
        count = sum(1 for s in sheets if (s.material, s.thickness_m) == (material, thick))
        named = "sheet material" if material == "sheet" else material
        why = said("grain of the faces along the long side")
        found.append(Buy(named, float(count), "sheets", why, sizes_m=(thick, wide, high)))
    for cord in of_kind(rocket, p.Cord):
        found.append(
            Buy(
                f"recovery cord ({cord.name})",
                cord.length_m * SPARE,
                "m",
                said("at least {pull} new, and 5 % spare", pull=(cord.strength_n, "force")),
            )
        )
    for canopy in of_kind(rocket, p.Canopy):
        found.append(
            Buy(
                f"canopy, {canopy.name}",
                1.0,
                "pieces",
                _size(canopy),
            )
        )
    for added in of_kind(rocket, p.AddedMass):
        if added.role not in NO_PIECE:
            found.append(Buy(added.name, 1.0, "pieces", said("as weighed")))
    if of_kind(rocket, p.Buttons):
        found.append(
            Buy("rail guides with screws and nuts", 2.0, "pieces", said("for your rail's slot"))
        )
    return found


def cut_list(
    rocket: DesignedRocket,
    templates: Sequence[Template],
    choices: Choices,
    invented: bool = False,
) -> CutList:
    """Cut list, shopping list and nested sheets of a rocket.

    Parameters
        rocket : DesignedRocket - as flown. [-]
        templates : sequence of Template - flat pieces to nest, guides included. [m]
        choices : Choices - kerf and sheets at hand. [SI]
        invented : bool - the project says it is made up. [-]
    Returns
        cuts : CutList - finished sizes; tubes to buy have kerf and a trimmed end added. [m]
    Raises
        nothing
    Validity
        One kerf for each tube cut.
    Source
        Arithmetic.
    Example
        >>> cut_list(DesignedRocket("r", ()), (), Choices()).cuts
        ()
    """
    sheets = cut_sheets(templates, choices)
    left = too_large(templates, choices, sheets)
    tubes = _tubes(rocket)
    buys = _buys(rocket, tubes, sheets, choices.kerf_m)
    flat = (*_flat(sheets), *_unlaid([t for t in templates if t.key in left]))
    return CutList(
        rocket=rocket.name,
        kerf_m=choices.kerf_m,
        cuts=(*tubes, *flat),
        buys=tuple(buys),
        sheets=sheets,
        invented=invented,
        money=choices.money,
        left_out=tuple(left.values()),
        fits=fits(rocket),
    )
