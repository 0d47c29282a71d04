"""Hand-made results for the tests of the outputs: no figure here comes from a flight."""

import math

import numpy as np

from goodflight.quantity.said import said
from goodflight.studies.cautions import WHO_DECIDES
from goodflight.studies.motor_results import DelayRow, DelayStudy, MotorRow, MotorStudy
from goodflight.studies.questions.layout import FinSet, Layout, Mark, Piece
from goodflight.studies.results import (
    Basis,
    Driver,
    Failing,
    Figured,
    FlightReport,
    Input,
    Ledger,
    Measurement,
    NumberedFlight,
    Remedy,
    Row,
    Trait,
    Way,
    WayStep,
)


def row(**changes: object) -> Row:
    rng = np.random.default_rng(1)
    values: dict[str, object] = {
        "key": "gust_incidence",
        "title": "Angle of attack in a gust at rail exit",
        "phase": "pad",
        "state": "marginal",
        "chance": 0.068,
        "low": 0.054,
        "high": 0.087,
        "failed": 136,
        "flights": 2000,
        "margin": 1.49,
        "demand": rng.normal(0.2, 0.05, 2000),
        "capacity": rng.normal(0.28, 0.01, 2000),
        "unit": "angle",
        "more_is_worse": True,
        "basis": Basis(
            "atan(gust across the rocket / speed at rail exit) <= incidence of fin stall, {stall}",
            {"stall": Figured(0.28, "angle", "common practice, no source")},
            ("hoerner1965",),
            ("Hoerner, Fluid-Dynamic Drag, 1965 (memory)",),
        ),
        "inputs": (
            Input(
                "rail",
                "rail length",
                "length",
                2.4,
                0.01,
                False,
                "measured",
                "plans.toml:plans[0].rail",
            ),
            Input(
                "wind",
                "wind at 2 m",
                "speed",
                4.5,
                1.0,
                False,
                "guess",
                "plans.toml:plans[0].day.wind",
            ),
            Input("thrust", "mean thrust", "force", 141.0, 3.0, False, "label", "motors/h-b.toml"),
            Input(
                "stall",
                "angle of attack of stall",
                "angle",
                None,
                0.035,
                because="winter1936",
                source="Winter, Flow phenomena on plates, 1936 (memory)",
                reason="stall of low-aspect plates between 15 and 25 deg",
            ),
        ),
        "drivers": (Driver("wind", "wind at the pad", 0.61), Driver("gust", "gust factor", 0.2)),
        "remedies": (
            Remedy(
                "rail", said("use the 3.0 m rail"), "free", "longer queue", 0.021, 0.068, 0.11, 0.15
            ),
        ),
        "failing": Failing(
            (Trait("wind", "speed", 5.1, 3.4), Trait("thrust line", "either way", 1.5, 0.8)),
            (NumberedFlight(17, "worst"), NumberedFlight(902, "near")),
        ),
    }
    values.update(changes)
    return Row(**values)  # type: ignore[arg-type]


def ledger() -> Ledger:
    rng = np.random.default_rng(2)
    early = row(
        key="too_early",
        title="Ejected too early, still fast",
        phase="deployment",
        state="fails",
        chance=0.31,
        low=0.29,
        high=0.33,
        failed=620,
        margin=0.5,
        demand=rng.normal(26.0, 8.0, 2000),
        capacity=np.full(2000, 30.0),
        unit="speed",
        drivers=(Driver("delay", "scatter of the delay", 0.8),),
        remedies=(
            Remedy(
                "delay_out",
                said("take 1 s less out"),
                "minutes",
                "",
                0.12,
                0.31,
                0.2,
                0.36,
                ("too_late",),
            ),
        ),
    )
    exit_speed = row(
        key="thrust_to_weight",
        title="Thrust to weight",
        state="ok",
        chance=0.0,
        low=0.0,
        high=0.0019,
        failed=0,
        margin=6.1,
        demand=rng.normal(8.2, 0.3, 2000),
        capacity=np.full(2000, 5.0),
        unit="ratio",
        more_is_worse=False,
        remedies=(),
    )
    ceiling = row(
        key="ceiling",
        title="Above the agreed ceiling of this field on this day",
        phase="boost",
        state="unknown",
        chance=None,
        low=None,
        high=None,
        failed=0,
        margin=None,
        demand=np.array([]),
        capacity=np.array([]),
        unit="length",
        drivers=(),
        remedies=(),
        advice="Enter the agreed ceiling in sites/larkrise.toml (key ceiling).",
    )
    return Ledger(
        rocket="Fieldfare",
        plan="middle motor at 13:15",
        motor="H-b",
        site="Larkrise stubble",
        flights=2000,
        seed=1,
        rows=(row(), exit_speed, ceiling, early),
        chance=0.36,
        unknown=("ceiling",),
        low=0.34,
        high=0.38,
        state="fails",
        measured=9,
        figures=21,
        not_modelled=("motor burst", "misfire", "human error"),
        warnings=("Speed of the model is good to Mach 0.8; the fastest flight reached Mach 0.4.",),
        stands_on=(("goodflight", "0.1.0"), ("inputs", "ab12cd34")),
        invented=True,
        measure_next=(
            Measurement("wind", "wind", "read a hand-held meter at the rail", 10.0, 0.049, 0.36),
        ),
        way=Way(
            (WayStep(early.remedies[0], ("too_early",)),),
            early.remedies[0].total_before,
            early.remedies[0].total,
            0.01,
            0.2,
            0.25,
            True,
            False,
        ),
    )


def motors() -> MotorStudy:
    """One motor that may fly and one that does not go in."""
    small = MotorRow(
        "H-a",
        "H-a",
        "H",
        168.0,
        "L1",
        "marginal",
        3.0,
        0.04,
        0.03,
        0.06,
        328.0,
        ("Opens too late, falling fast (3 in 100)",),
    )
    wide = MotorRow(
        "K-x",
        "K-x",
        "K",
        1400.0,
        "L2",
        "fails",
        None,
        None,
        None,
        None,
        None,
        ("too wide: 54.0 mm in a tube of 38.4 mm",),
    )
    return MotorStudy(
        "Fieldfare",
        "middle motor at 13:15",
        "Larkrise stubble",
        "L1",
        600,
        1,
        (small, wide),
        (said("L2: K-x cannot be flown here: too wide."),),
        (WHO_DECIDES,),
        True,
    )


def flight() -> FlightReport:
    time = np.linspace(0.0, 10.0, 6)
    return FlightReport(
        rocket="Fieldfare",
        plan="middle motor, calm",
        motor="H-b",
        calm=True,
        figures={
            "liftoff_mass_kg": 1.766,
            "rail_exit_m_s": 19.9,
            "max_speed_m_s": 121.0,
            "max_mach": 0.36,
            "apogee_m": 577.0,
            "apogee_s": 10.6,
            "main_opening_m_s": None,
            "something_new_kg": 1.0,
        },
        events=(("leaves the rail", 0.21, 2.4), ("burnout", 1.82, 120.0), ("apogee", 10.6, 577.0)),
        history={"time_s": time, "height_m": time**2, "speed_m_s": 2 * time},
        warnings=(),
        invented=True,
    )


def delay() -> DelayStudy:
    rows = tuple(
        DelayRow(
            delay_out_s=float(cut),
            delay_s=11.0 - cut,
            chance=0.05 + 0.04 * (cut - 2) ** 2,
            low=0.04 + 0.04 * (cut - 2) ** 2,
            high=0.06 + 0.04 * (cut - 2) ** 2,
            chances={"too_early": 0.01 * cut, "too_late": 0.05},
            ejection_m_s_5_50_95=(6.0, 12.0, 21.0),
            ejection_m_5_50_95=(520.0, 548.0, 571.0),
            after_apogee_s_5_50_95=(-1.2, 0.3 - cut, 2.0),
            spread_s=0.08 * (11.0 - cut),
            tied=cut == 3,
        )
        for cut in (2, 3, 1, 0)
    )
    warnings = ("2 s out, 3 s out: the same flights cannot tell them apart",)
    return DelayStudy(
        rocket="Fieldfare",
        plan="middle motor",
        motor="H-b",
        flights=1000,
        seed=1,
        planned_delay_out_s=2.0,
        rows=rows,
        warnings=warnings,
        invented=True,
        sold_s=11.0,
        sold_spread=0.08,
    )


def layout() -> Layout:
    """The invented rocket of the demo, from its table of parts, by hand."""
    ogive = [(i / 40, math.sin(math.pi / 2 * (i / 40) ** 0.9)) for i in range(41)]
    outline = [(0.24 * x, 0.0395 * y) for x, y in ogive] + [(1.22, 0.0395)]
    parts = [
        ("nose ballast", "added_mass", 60, 80, 12, 0, 45, 70, "measured"),
        ("coupler, bulkheads, eyebolt", "coupler", 385, 535, 37.5, 35.5, 95, 460, "measured"),
        ("sled, logger, battery, camera", "added_mass", 330, 470, 25, 0, 95, 400, "label"),
        ("parachute, cord, blanket, links", "canopy", 545, 880, 36, 0, 318, 680, "measured"),
        ("U-bolt", "added_mass", 955, 969, 8, 0, 25, 962, "label"),
        ("forward ring", "ring", 965, 969, 38, 20.5, 20, 967, "guess"),
        ("middle ring", "ring", 1080, 1084, 38, 20.5, 20, 1082, "guess"),
        ("aft ring", "ring", 1205, 1209, 38, 20.5, 20, 1207, "guess"),
        ("motor tube", "motor_tube", 960, 1220, 20.5, 19.2, 32, 1090, "measured"),
        ("retainer", "added_mass", 1209, 1221, 24, 0, 35, 1215, "label"),
        ("motor H-b", "motor", 1017, 1220, 19, 0, 305, 1118, "label"),
    ]
    contents = tuple(
        Piece(n, k, a / 1e3, b / 1e3, r / 1e3, i / 1e3, m / 1e3, c / 1e3, known)
        for n, k, a, b, r, i, m, c, known in parts
    )
    body = (
        Piece("nose", "nose", 0.0, 0.24, 0.0395, 0.0, 0.144, 0.15, "measured"),
        Piece("payload tube", "tube", 0.24, 0.46, 0.0395, 0.038, 0.068, 0.35, "measured"),
        Piece("main tube", "tube", 0.46, 1.22, 0.0395, 0.038, 0.236, 0.84, "measured"),
    )
    fin = ((1.06, 0.0395), (1.13, 0.1195), (1.19, 0.1195), (1.21, 0.0395))
    turns = tuple(math.tau * i / 3 for i in range(3))
    return Layout(
        rocket="Fieldfare",
        plan="middle motor at 13:15",
        motor="H-b",
        length_m=1.22,
        diameter_m=0.079,
        outline_m=tuple(outline),
        body=body,
        contents=contents,
        fins=(FinSet("fins", fin, turns, 0.004, (1.075, 1.195, 0.019), 0.092, "measured"),),
        guides_m=(0.9, 1.19),
        guide_height_m=0.011,
        separation_m=0.46,
        liftoff_mass_kg=1.766,
        cg_liftoff=Mark(0.7711, 0.004),
        cg_burnout=Mark(0.744, 0.004),
        cp=Mark(0.8987, 0.02),
        cp_travel_m=0.83,
        margin_liftoff_cal=1.615,
        margin_burnout_cal=1.96,
        margin_short_cal=1.06,
        gust_rad=0.19,
        margin_gust_cal=1.31,
        measured=9,
        figures=21,
        invented=True,
    )
