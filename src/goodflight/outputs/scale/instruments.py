"""A small drawing for each kind of instrument: how it is held to the rocket and what is read off.

Line drawings of 160 x 100; the page inks them by class: `line` and `thin`, `body` filled with
paper, `full` with ink, `read` for what is read off.
"""

from html import escape
from typing import Final

_WIDTH, _HEIGHT = 160, 100
KINDS: Final[dict[str, str]] = {  # an instrument as the quantities name it -> its drawing
    "kitchen scale": "scale",
    "jewellery scale": "scale",
    "edge and ruler": "edge",
    "two wires, tape and watch": "swing",
    "calliper or rule": "calliper",
    "calliper": "calliper",
    "coins": "calliper",
    "straight edge and calliper": "calliper",
    "dial or ruler": "calliper",
    "level and compass": "level",
    "luggage scale": "luggage",
    "luggage scale and lever": "luggage",
    "tape": "tape",
    "tape and scale": "drop",
    "stopwatch and tape": "drop",
    "clock": "watch",
    "clock or sheet": "watch",
    "clock and thermometer": "watch",
    "weights": "weights",
    "weight and tape": "weights",
    "weights and calliper": "weights",
    "weight, protractor and calliper": "weights",
    "bucket and scale": "weights",
    "bucket, scale and calliper": "weights",
    "lever and scale": "press",
    "bathroom scales": "press",
    "bathroom scales and lever": "press",
    "camera": "camera",
    "camera and tape": "camera",
    "camera, weight and tape": "camera",
    "hand-held wind meter": "wind",
    "streamer and compass": "wind",
    "thermometer": "reader",
    "thermometer that keeps the lowest and highest": "reader",
    "hygrometer": "reader",
    "barometer": "reader",
    "logger with barometer": "reader",
    "micrometer": "calliper",
}
SAID: Final = {
    "scale": "it lies alone on the scale, nothing touches the table",
    "edge": "it balances on an edge; the tape runs from the nose tip to the edge",
    "swing": "it hangs level on two equal wires and swings about the upright",
    "calliper": "the jaws close square across it",
    "level": "the level lies along the rail",
    "luggage": "the scale pulls straight along the axis",
    "tape": "the tape lies beside the packed gear",
    "drop": "it falls from a measured height",
    "watch": "ten swings or one full run, timed",
    "weights": "weights hang from it, a little more each time",
    "press": "pressed on bathroom scales",
    "camera": "the camera stands square beside a tape",
    "wind": "held up at arm's length for ten minutes",
    "reader": "left in the shade beside it until it is steady",
}


def _line(path: str, kind: str = "line") -> str:
    return f'<path d="{path}" class="{kind}"/>'


def _rocket(x: float, y: float, long: float, half: float = 5.0) -> str:
    """A rocket lying, nose to the left: body, far fin, near fin."""
    nose, tail = 0.22 * long, x + long
    fin = f"M{tail - 20:g} {y - half:g}l8 -11h10l2 11zM{tail - 20:g} {y + half:g}l8 11h10l2 -11z"
    body = (
        f"M{x:g} {y:g}Q{x + 0.5 * nose:g} {y - half:g} {x + nose:g} {y - half:g}H{tail:g}"
        f"V{y + half:g}H{x + nose:g}Q{x + 0.5 * nose:g} {y + half:g} {x:g} {y:g}z"
    )
    return (
        _line(fin, "body") + _line(body, "body") + _line(f"M{x + nose:g} {y - half:g}v{2 * half:g}")
    )


def _across(x: float, end: float, y: float) -> str:
    """A dimension line between two places."""
    ticks = f"M{x:g} {y - 4:g}v8M{end:g} {y - 4:g}v8"
    heads = f"M{x:g} {y:g}l5 -2v4zM{end:g} {y:g}l-5 -2v4z"
    return _line(f"M{x:g} {y:g}H{end:g}{ticks}", "read") + _line(heads, "head")


def _upright(x: float, y: float, end: float) -> str:
    ticks = f"M{x - 4:g} {y:g}h8M{x - 4:g} {end:g}h8"
    heads = f"M{x:g} {y:g}l-2 5h4zM{x:g} {end:g}l-2 -5h4z"
    return _line(f"M{x:g} {y:g}V{end:g}{ticks}", "read") + _line(heads, "head")


def _table(y: float = 92.0) -> str:
    return _line(f"M6 {y:g}H154", "thin")


def _dial(x: float, y: float, radius: float) -> str:
    ticks = "".join(
        f"M{x + a * radius * 0.72:.1f} {y + b * radius * 0.72:.1f}"
        f"L{x + a * radius * 0.92:.1f} {y + b * radius * 0.92:.1f}"
        for a, b in ((-0.87, 0.5), (-0.87, -0.5), (0.0, -1.0), (0.87, -0.5), (0.87, 0.5))
    )
    circle = f'<circle cx="{x:g}" cy="{y:g}" r="{radius:g}" class="body"/>'
    return (
        circle
        + _line(ticks, "thin")
        + _line(f"M{x:g} {y:g}l{0.5 * radius:g} {-0.55 * radius:g}", "read")
    )


def _scale() -> str:
    case = "M46 92l6 -22h56l6 22z"
    window = '<rect x="66" y="76" width="28" height="10" class="read"/>'
    return (
        _table()
        + _line(case, "body")
        + window
        + _line("M44 66h72v4h-72z", "body")
        + _rocket(14, 61, 132)
    )


def _edge() -> str:
    wedge = "M86 92L92 61L98 92z"
    return (
        _table()
        + _line(wedge, "body")
        + _rocket(14, 56, 132)
        + _line("M14 56V22M92 61V22", "thin")
        + _across(14, 92, 26)
    )


def _swing() -> str:
    wires = "M52 10V60M108 10V60"
    turn = _line("M38 84q42 12 84 0", "read") + _line("M38 84l6 -1l-2 5zM122 84l-6 -1l2 5z", "head")
    return (
        _line("M34 10H126", "line")
        + _line(wires, "thin")
        + _rocket(14, 65, 132)
        + _across(52, 108, 34)
        + _upright(22, 10, 60)
        + turn
    )


def _luggage() -> str:
    hook = "M62 50h-8M66 50h10"
    return (
        _line("M12 50h18", "read")
        + _line("M12 50l6 -3v6z", "head")
        + _dial(44, 50, 13)
        + _line(hook)
        + _rocket(68, 50, 84)
        + _line("M112 92V62M122 92V62M104 92H130", "thin")
        + _line("M106 60h22v4h-22z", "body")
    )


def _calliper() -> str:
    tube = (
        '<circle cx="84" cy="60" r="24" class="body"/><circle cx="84" cy="60" r="21" class="thin"/>'
    )
    beam = "M34 16H150V28H34z"
    jaws = "M48 28h12V74l-12 -10zM108 28h12V64l-12 10z"
    marks = "".join(f"M{x} 28v-5" for x in range(64, 148, 6))
    return (
        tube
        + _line(beam, "body")
        + _line(jaws, "body")
        + _line(marks, "thin")
        + _across(60, 108, 90)
    )


def _level() -> str:
    rail = "M18 88L132 20L138 30L24 98z"
    turn = 'transform="rotate(-31 80 44)"'
    tube = f'<rect x="52" y="36" width="56" height="16" rx="3" class="body" {turn}/>'
    bubble = f'<ellipse cx="80" cy="44" rx="8" ry="4" class="read" {turn}/>'
    return (
        _line(rail, "body")
        + tube
        + bubble
        + _line("M24 98H100", "thin")
        + _line("M62 98a40 40 0 0 0 -6 -22", "read")
    )


def _tape() -> str:
    gear = "M30 34q4 -12 16 -12h68q12 0 16 12v18q-4 10 -16 10H46q-12 0 -16 -10z"
    folds = "M46 22q-8 20 0 40M68 22q-8 20 0 40M90 22q-8 20 0 40M112 22q-8 20 0 40"
    marks = "".join(f"M{x} 76v{7 if x % 20 == 10 else 4}" for x in range(30, 131, 5))
    return (
        _line(gear, "body")
        + _line(folds, "thin")
        + _line("M22 76H138V90H22z", "body")
        + _line(marks, "thin")
        + _across(30, 130, 70)
    )


def _drop() -> str:
    fall = _line("M78 38V72", "read") + _line("M78 74l-3 -8h6z", "head")
    return (
        _table(90)
        + _line("M64 12h28v22h-28z", "body")
        + _line("M70 12V34M86 12V34", "thin")
        + fall
        + _upright(126, 34, 90)
    )


def _watch() -> str:
    return (
        _line("M74 14h12v8h-12zM68 10h24v4h-24z", "body")
        + _line("M106 30l6 -6", "line")
        + _dial(80, 58, 34)
    )


def _weights() -> str:
    sheet = "M22 22H100V28H22z"
    pile = "M72 58h40l6 34H66z"
    return (
        _line("M14 10V60M14 20h8M14 30h8")
        + _line(sheet, "body")
        + _line("M92 28V58", "line")
        + _line(pile, "body")
        + _line("M82 74h20", "read")
        + _line("M92 66v16", "read")
    )


def _press() -> str:
    plate = "M34 78h92v12H34z"
    push = _line("M80 8V26", "read") + _line("M80 30l-3 -8h6z", "head")
    tube = '<rect x="58" y="34" width="44" height="40" class="body"/>'
    return _table(92) + _line(plate, "body") + _dial(80, 84, 5) + tube + _line("M58 74H102") + push


def _camera() -> str:
    body = "M20 34h36v24h-36zM28 34l4 -6h12l4 6"
    legs = "M38 58L26 92M38 58V92M38 58L50 92"
    marks = "".join(f"M126 {y}h-6" for y in range(16, 92, 8))
    view = "M58 44L116 14M58 48L116 90"
    return (
        _line(body, "body")
        + '<circle cx="38" cy="46" r="7" class="read"/>'
        + _line(legs)
        + _line(view, "thin")
        + _line("M126 10H136V92H126z", "body")
        + _line(marks, "thin")
    )


def _wind() -> str:
    cups = "M56 26a8 8 0 0 0 16 0zM88 26a8 8 0 0 0 16 0z"
    return (
        _line("M64 26H96M80 26V52")
        + _line(cups, "body")
        + _line("M70 52h20v38h-20z", "body")
        + '<rect x="74" y="58" width="12" height="8" class="read"/>'
        + _line("M118 20h26M122 30h22M118 40h26", "thin")
    )


def _reader() -> str:
    bulb = "M74 14a6 6 0 0 1 12 0V64a13 13 0 1 1 -12 0z"
    marks = "".join(f"M90 {y}h8" for y in range(20, 62, 8))
    return (
        _line(bulb, "body")
        + '<circle cx="80" cy="76" r="8" class="full"/>'
        + _line("M80 76V38", "read")
        + _line(marks, "thin")
    )


_DRAWN: Final = {
    "scale": _scale, "edge": _edge, "swing": _swing, "luggage": _luggage, "calliper": _calliper,
    "level": _level, "tape": _tape, "drop": _drop, "watch": _watch, "weights": _weights,
    "press": _press, "camera": _camera, "wind": _wind, "reader": _reader,
}  # fmt: skip


def instrument_svg(kind: str) -> str:
    """The drawing of one kind of instrument.

    Parameters
        kind : str - one of `SAID`. [-]
    Returns
        svg : str - 160 x 100, inked by class. [-]
    Raises
        KeyError - no such kind.
    Validity
        Not to scale.
    Source
        Own drawings.
    Example
        >>> instrument_svg("scale")[:4]
        '<svg'
    """
    return (
        f'<svg class="instrument" viewBox="0 0 {_WIDTH} {_HEIGHT}" role="img" '
        f'aria-label="{escape(SAID[kind])}">{_DRAWN[kind]()}</svg>'
    )


def drawing_of(instrument: str) -> str:
    """The drawing that belongs to an instrument as a quantity names it; empty where it has none."""
    kind = KINDS.get(instrument)
    return "" if kind is None else instrument_svg(kind)
