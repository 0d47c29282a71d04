"""A project as loaded: its plans, motors, fields and parts, ready for physics and studies."""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from functools import cached_property
from pathlib import Path
from types import MappingProxyType

from goodflight.physics.air.model import Day, Site
from goodflight.physics.motor.model import Motor
from goodflight.project import building, defaults
from goodflight.project.bench_files import BuildFile, NotesFile, WeighingsFile
from goodflight.project.codes import CodeSet, packaged_codes
from goodflight.project.curves import Curve
from goodflight.project.day_file import FILE as DAY_FILE
from goodflight.project.day_file import DayFile, HourTable
from goodflight.project.designed import DesignedRocket
from goodflight.project.faults import NoSuchPlan
from goodflight.project.fields import said_in
from goodflight.project.flight_files import FieldSays, PlanSays, PlanTable, SiteFile
from goodflight.project.head_figures import FIGURE_TABLES
from goodflight.project.motor_files import MotorFile
from goodflight.project.outlines import Outline
from goodflight.project.part_doubts import doubts_of_rocket
from goodflight.project.parts.canopy import CanopyTable
from goodflight.project.parts.table import PartTable
from goodflight.project.predictions import PredictionFile
from goodflight.project.pressure_checks import pressure_doubt
from goodflight.project.rocket_file import RocketHead
from goodflight.project.uncertain import (
    Uncertain,
    density_of,
    figures_of,
    no_roughness,
    uncertain_of,
)
from goodflight.project.values import Values, part_path
from goodflight.quantity import Quantity
from goodflight.quantity.said import Words

_NONE: Mapping[str, float] = MappingProxyType({})


@dataclass(frozen=True)
class Plan:
    """One intended flight. `motor` and `site` are file names without `.toml`; "" for no motor."""

    name: str
    motor: str
    delay_out_s: float
    canopy: str
    site: str
    day: Day
    rail_length_m: float
    rail_tilt_rad: float  # from vertical
    rail_azimuth_rad: float | None  # the way the top leans; None = into the wind
    deployment: str  # "delay" | "altimeter"
    level: str  # "none" | "L1" | "L2" | "L3"
    main: str | None = None  # second canopy, opened below `main_height_m`
    main_height_m: float = 0.0
    apogee_lag_s: float = 1.0
    rail_stop_m: float = defaults.RAIL_STOP_M  # tail above the lower end of the rail, at rest
    rail_base_m: float = defaults.RAIL_BASE_M  # lower end of the rail above the ground
    pad_wait_s: float | None = None  # from switching on to ignition
    pad_wait_sigma_s: float = 0.0
    says: PlanSays = field(default_factory=PlanSays)  # as it is written
    field_says: FieldSays = field(default_factory=FieldSays)


@dataclass(frozen=True)
class Project:
    """Everything in a project folder, checked. Nothing here changes; a saved edit makes a new one.

    `texts` and `hashes` are the files as read, by path inside the folder; `lines` gives the line
    of a path such as `rocket.toml:part[nose].mass`.
    """

    root: Path | None
    head: RocketHead
    parts: tuple[PartTable, ...]
    plan_tables: tuple[PlanTable, ...]
    motor_files: Mapping[str, tuple[MotorFile, Curve]]
    site_files: Mapping[str, tuple[SiteFile, Outline | None]]
    weighings: WeighingsFile
    build: BuildFile | None
    notes: Mapping[str, NotesFile]
    texts: Mapping[str, str]
    hashes: Mapping[str, str]
    lines: Mapping[str, int] = field(default_factory=dict)
    own_codes: Mapping[str, CodeSet] = field(default_factory=dict)
    weighed: tuple[RocketHead, tuple[PartTable, ...]] | None = None
    day: DayFile = field(default_factory=DayFile)
    predictions: Mapping[str, PredictionFile] = field(default_factory=dict)  # by flight

    def as_weighed(self) -> "Project":
        """The project with the rocket that was on the scale, where it was changed since."""
        if self.weighed is None:
            return self
        return replace(self, head=self.weighed[0], parts=self.weighed[1])

    @property
    def codes(self) -> dict[str, CodeSet]:
        """The code sets a field may name: the package's, and the project's own before them."""
        return {**packaged_codes(), **self.own_codes}

    @property
    def name(self) -> str:
        """The rocket's name."""
        return self.head.name

    @property
    def invented(self) -> bool:
        """Whether the project says that it is made up; every screen shows it."""
        return self.head.invented

    @property
    def motors(self) -> dict[str, Motor]:
        """The motors by file name."""
        return {stem: self.motor(stem) for stem in self.motor_files}

    @property
    def sites(self) -> dict[str, Site]:
        """The fields by file name."""
        return {stem: self.site(stem) for stem in self.site_files}

    @property
    def plans(self) -> tuple[Plan, ...]:
        """The plans in the order of the file; the first is the default."""
        return tuple(self.plan(table.name) for table in self.plan_tables)

    @property
    def figures(self) -> dict[str, int]:
        """How many figures of the default plan are known in which way."""
        return self.figures_of(None)

    def figures_of(self, plan: str | None) -> dict[str, int]:
        """Return how many figures of a plan are a guess, from a label, measured, from a flight."""
        found = Counter(each.known for each in self.uncertain(plan))
        return {known: found[known] for known in ("guess", "label", "measured", "flight")}

    def _plan_table(self, name: str | None) -> PlanTable:
        for table in self.plan_tables:
            if name is None or table.name == name:
                return table
        names = [table.name for table in self.plan_tables]
        close = get_close_matches(str(name), names, n=1)
        advice = f"did you mean {close[0]}?" if close else "take a name from the list"
        found = f"no plan named {name!r}; plans.toml has: {', '.join(names)}"
        raise NoSuchPlan(found, advice=advice, key="plan")

    def plan(self, name: str | None = None, overrides: Mapping[str, float] = _NONE) -> Plan:
        """Return one plan by name, the first when None.

        Raises
        ------
        NoSuchPlan - no plan has this name; the message lists those there are.
        """
        table = self._plan_table(name)
        base = f"plans.toml:plan[{table.name}]"
        v = Values(overrides)
        site = self.site_files[table.site][0]
        lean = table.lean
        lag = v.of(base, table, "apogee_lag", 1.0)
        return Plan(
            name=table.name,
            motor=table.motor or "",
            delay_out_s=v.of(base, table, "delay_out"),
            canopy=table.canopy,
            site=table.site,
            day=building.build_day(f"{base}.day", table.day, site, overrides),
            rail_length_m=v.of(base, table, "rail", site.rails[0].value),
            rail_tilt_rad=v.of(base, table, "tilt"),
            rail_stop_m=_first(v, base, table, site, key="rail_stop", default=defaults.RAIL_STOP_M),
            rail_base_m=_first(v, base, table, site, key="rail_base", default=defaults.RAIL_BASE_M),
            rail_azimuth_rad=v.get(f"{base}.lean", lean) if isinstance(lean, Quantity) else None,
            deployment=table.deployment,
            level=table.level,
            main=table.main,
            main_height_m=v.of(base, table, "main_height"),
            apogee_lag_s=lag,
            pad_wait_s=v.maybe(f"{base}.pad_wait", table.pad_wait),
            pad_wait_sigma_s=_wait_sigma(table.pad_wait),
            says=said_in(PlanSays, table),
            field_says=said_in(FieldSays, site),
        )

    def _stays_home(self, plan: str | None) -> frozenset[str]:
        table = self._plan_table(plan)
        flown = {table.canopy, table.main}
        canopies = (part.name for part in self.parts if isinstance(part, CanopyTable))
        return frozenset(name for name in canopies if name not in flown)

    def hours(
        self, plan: str | None = None, told: Sequence[HourTable] | None = None
    ) -> tuple[tuple[str, Day], ...]:
        """Return the forecast (day.toml's, or one told here) over a plan's field: time, weather."""
        site = self.site_files[self._plan_table(plan).site][0]
        rows = self.day.hour if told is None else told
        paths = [f"{DAY_FILE}:hour[#{i + 1}]" for i in range(len(rows))]
        return tuple(
            (row.time, building.build_hour(path, row, site)) for path, row in zip(paths, rows)
        )

    def rocket(
        self, overrides: Mapping[str, float] | None = None, plan: str | None = None
    ) -> DesignedRocket:
        """Return the rocket for a plan: only the canopies that plan flies are in it.

        Parameters
        ----------
        overrides : mapping or None - SI values by path, e.g. "rocket.toml:part[nose].mass". [SI]
        plan : str or None - name of the plan; None takes the first. [-]
        """
        return building.build_rocket(
            self.head, self.parts, overrides or _NONE, self._stays_home(plan)
        )

    def motor(self, name: str, overrides: Mapping[str, float] = _NONE) -> Motor:
        """Return a motor by file name, any figure overridden (`motors/H-b.toml:loaded`)."""
        head, curve = self.motor_files[name]
        return building.build_motor(name, head, curve, overrides)

    def site(self, name: str, overrides: Mapping[str, float] = _NONE) -> Site:
        """Return a field by file name."""
        head, outline = self.site_files[name]
        return building.build_site(name, head, outline, overrides)

    def line(self, path: str) -> int | None:
        """Return the line a path stands on, None when it is not written."""
        return self.lines.get(path, self.lines.get(path.rpartition(".")[0]))

    def doubts(self, plan: Plan | str | None = None) -> tuple[Words, ...]:
        """Return what can be so and is probably not meant, each with its place in the files."""
        table = self._plan_table(plan.name if isinstance(plan, Plan) else plan)
        stations = building.body_stations(self.parts, Values())
        stays = self._stays_home(table.name)
        parts = [part for part in self.parts if part.name not in stays]
        found: list[Words] = [
            replace(each.words, home=f"rocket.toml:{each.key}")
            for each in doubts_of_rocket(self.head, parts, stations)
        ]
        pressure = pressure_doubt(table.day, self.site_files[table.site][0])
        if pressure is not None:
            found.append(replace(pressure, home=f"plans.toml:plan[{table.name}].day.pressure"))
        return tuple(found)

    def uncertain(self, plan: Plan | str | None = None) -> tuple[Uncertain, ...]:
        """Return every figure of a plan that has a spread, stated or by default.

        Figures of the rocket as that plan flies it, its motor, and its day. Material densities
        count where a part's mass is worked out from its shape.
        """
        name = plan.name if isinstance(plan, Plan) else plan
        table = self._plan_table(name)
        home = self._stays_home(name)
        found: list[Uncertain] = []
        for part, figures in zip(self.parts, self._of_parts):
            if part.name not in home:
                found += figures
        found += self._of_head
        if table.motor is not None:
            head = self.motor_files[table.motor][0]
            found += figures_of(f"motors/{table.motor}.toml:", head, "motor")
        base = f"plans.toml:plan[{table.name}]"
        found += figures_of(f"{base}.day", table.day, "day")
        if table.tilt is not None:
            found += [uncertain_of(f"{base}.tilt", "tilt", "rail", table.tilt)]
        return tuple(each for each in found if each.sigma > 0)

    @cached_property
    def _of_parts(self) -> tuple[tuple[Uncertain, ...], ...]:
        """The figures of every part that have a spread, whatever plan flies it."""
        known = self.head.lengths
        return tuple(
            (*figures_of(part_path(x.name), x, x.name, known, "part"), *density_of(x))
            for x in self.parts
        )

    @cached_property
    def _of_head(self) -> tuple[Uncertain, ...]:
        """Those that rocket.toml has beside its parts."""
        head, known = self.head, self.head.lengths
        found = figures_of("rocket.toml:surface", head.surface, "surface", known, "surface")
        found += no_roughness(head)
        for key in FIGURE_TABLES:
            found += figures_of(f"rocket.toml:{key}", getattr(head, key), key, known, key)
        return tuple(found)


def _first(
    v: Values, base: str, plan: PlanTable, site: SiteFile, key: str, default: float
) -> float:
    """Return a figure as the plan says, else as the field says, else by default."""
    of_site = getattr(site, key)
    return v.of(base, plan, key, default if of_site is None else of_site.value)


def _wait_sigma(wait: Quantity | None) -> float:
    """Queues are not known to a tenth: a third of the wait unless a spread is stated."""
    if wait is None:
        return 0.0
    return wait.sigma if wait.sigma is not None else defaults.PAD_WAIT_SPREAD * wait.value
