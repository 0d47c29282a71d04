"""Every published source by its key: what it is, what it is good for, how it is held."""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True)
class Source:
    """One source: what it is, what it is good for, and whether a copy or table was read."""

    key: str
    text: str
    good_for: str
    held: str  # seen | seen (table) | memory | practice ...


ALL: Final = (
    Source(
        "adams1952",
        "Adams and Dugan, NACA Report 1088, 1952",
        "roll damping of slender cruciform wing-body sets",
        "memory",
    ),
    Source(
        "aitken1936",
        "Aitken, On least squares and linear combination of observations, 1936",
        "several readings with correlated errors taken together",
        "memory",
    ),
    Source(
        "allen1951",
        "Allen and Perkins, NACA Report 1048, 1951",
        "viscous cross-flow on bodies at incidence",
        "memory",
    ),
    Source(
        "barrowman1967",
        "Barrowman, The practical calculation of the aerodynamic characteristics of slender finned "
        "vehicles, thesis, 1967",
        "normal force, CP and roll of slender finned rockets by component",
        "memory",
    ),
    Source(
        "brown1946",
        "Brown, NACA Report 839, 1946",
        "triangular wings at supersonic speed",
        "memory",
    ),
    Source(
        "crowell1996",
        "Crowell, The descriptive geometry of nose cones, 1996",
        "nose shapes",
        "memory",
    ),
    Source(
        "datcom1978",
        "USAF Stability and Control DATCOM, revised 1978",
        "slopes, interference, friction, worked examples",
        "seen (tables)",
    ),
    Source(
        "dlmf",
        "NIST Digital Library of Mathematical Functions",
        "elliptic integral by the arithmetic-geometric mean",
        "memory",
    ),
    Source(
        "durst1960",
        "Durst, Wind speeds over short periods of time, 1960",
        "gust against averaging time",
        "seen (table)",
    ),
    Source(
        "en1991-1-4",
        "EN 1991-1-4, Actions on structures: wind, 2005",
        "gust factor and turbulence intensity",
        "seen (worked example)",
    ),
    Source("harmon1947", "Harmon, NACA TN 1438, 1947", "tip loss of supersonic wings", "memory"),
    Source(
        "correa2004",
        "Correa, Designing with paper tubes, 2004, citing tests at Dortmund",
        "paper tubes in bending and compression, loss by moisture",
        "seen (summary)",
    ),
    Source(
        "tezuka1990",
        "Tezuka and Ito, Paper material tests, Waseda University, 1990-91",
        "crush and modulus of spiral paper tubes along the axis, five tubes",
        "seen (table)",
    ),
    Source("hellmann", "Hellmann's power law of the wind", "wind against height", "practice"),
    Source("hoerner1965", "Hoerner, Fluid-Dynamic Drag, 1965", "drag by component", "memory"),
    Source(
        "jansen1999",
        "Jansen, Analysis of variance designs for model output, 1999",
        "estimator of total effects",
        "memory",
    ),
    Source(
        "jardin2009",
        "Jardin and Mueller, Optimized measurements of unmanned-air-vehicle mass moment of inertia "
        "with a bifilar pendulum, 2009",
        "inertia from a swing on two wires",
        "memory",
    ),
    Source(
        "jcgm100",
        "JCGM 100:2008, Guide to the expression of uncertainty in measurement, annex G",
        "how much wider few readings leave a figure (Student's t)",
        "memory",
    ),
    Source("jones1946", "Jones, NACA Report 835, 1946", "slender wings", "memory"),
    Source(
        "jorgensen1977",
        "Jorgensen, NASA TR R-474, 1977",
        "cross-flow drag and its end correction",
        "seen (figures)",
    ),
    Source(
        "kaltschmitt2007",
        "Kaltschmitt et al., Renewable Energy, 2007",
        "exponents of the power law by terrain",
        "seen (table)",
    ),
    Source(
        "mccoy1981",
        "McCoy, MC DRAG, ARBRL-TR-02293, 1981",
        "base, boat-tail and nose drag of projectiles",
        "equations seen in two agreeing ports",
    ),
    Source("mckay1979", "McKay, Beckman and Conover, 1979", "Latin hypercube sampling", "memory"),
    Source(
        "mil-hdbk-762",
        "MIL-HDBK-762, Design of aerodynamically stabilized free rockets, 1990",
        "fin crowding; base drag is checked against its figure",
        "seen (figure)",
    ),
    Source(
        "mil-f-8785c",
        "MIL-F-8785C, Flying qualities of piloted airplanes, 1980",
        "Dryden turbulence at low altitude",
        "seen (table)",
    ),
    Source(
        "mil-hdbk-1797",
        "MIL-HDBK-1797, Flying qualities of piloted aircraft, 1997",
        "the same, later form",
        "memory",
    ),
    Source("hartlap2007", "Hartlap et al., A&A 464, 2007", "inverse of a sampled spread", "memory"),
    Source("huber1964", "Huber, Ann. Math. Stat. 35, 1964", "weights of outliers", "memory"),
    Source(
        "hastings1955",
        "Hastings, Approximations for Digital Computers, Princeton, 1955",
        "arc cosine as a polynomial",
        "memory",
    ),
    Source(
        "helton1994",
        "Helton, Treatment of uncertainty in performance assessments for complex systems, 1994",
        "knowledge in an outer loop, chance in an inner one",
        "memory",
    ),
    Source(
        "moussa2012",
        "Moussa et al., Int. J. Adhesion and Adhesives 35, 2012",
        "cure of epoxy in the cold",
        "seen (abstract)",
    ),
    Source("munk1924", "Munk, NACA Report 184, 1924", "slender bodies", "memory"),
    Source(
        "newcombe1998",
        "Newcombe, Two-sided confidence intervals for the single proportion, 1998",
        "form of the Wilson interval",
        "memory",
    ),
    Source(
        "pitts1957",
        "Pitts, Nielsen and Kaattari, NACA Report 1307, 1957",
        "fin-body interference",
        "seen (figures)",
    ),
    Source(
        "raymer1992",
        "Raymer, Aircraft Design, 1992",
        "drag rise of bodies, Mach factor of friction",
        "seen (figure)",
    ),
    Source(
        "rcc321",
        "RCC 321, Common risk criteria for national test ranges",
        "terms of range safety: probability of impact, limit for one person",
        "memory",
    ),
    Source("clopper1934", "Clopper and Pearson, 1934", "exact interval of a share", "memory"),
    Source("murphy1973", "Murphy, 1973", "parts of a score of chances (Brier 1950)", "memory"),
    Source(
        "rodgers2000",
        "Rodgers, Inverse methods for atmospheric sounding, 2000",
        "least squares with a prior",
        "memory",
    ),
    Source(
        "saltelli2010",
        "Saltelli et al., Variance based sensitivity analysis of model output, 2010",
        "choice of estimators",
        "memory",
    ),
    Source(
        "schlichting1979",
        "Schlichting, Boundary-Layer Theory, 1979",
        "friction and transition",
        "memory",
    ),
    Source(
        "sudret2008",
        "Sudret, Global sensitivity analysis using polynomial chaos expansions, 2008",
        "total effects from a fitted polynomial",
        "memory",
    ),
    Source(
        "usstd1976",
        "U.S. Standard Atmosphere, 1976",
        "temperature, pressure, density, viscosity",
        "seen (table)",
    ),
    Source("wilson1927", "Wilson, Probable inference, 1927", "interval of a share", "memory"),
    Source(
        "winter1936",
        "Winter, Flow phenomena on plates and airfoils of short span, 1936 (NACA TM 798)",
        "stall of small-aspect plates",
        "memory",
    ),
    Source(
        "alduchov1996",
        "Alduchov and Eskridge, Improved Magnus form, J. Appl. Meteorology, 1996",
        "dew point",
        "memory",
    ),
    Source(
        "iso2017",
        "ISO 8502-4, Condensation before painting, 2017",
        "margin of a surface over the dew point",
        "seen as quoted",
    ),
    Source(
        "poynter1984",
        "Poynter, The Parachute Manual, 3rd edition, 1984",
        "nylon in the sun: 52 % lost in one week of summer",
        "seen as quoted",
    ),
    Source(
        "knacke1991",
        "Knacke, Parachute Recovery Systems Design Manual, NWC TP 6575, 1991",
        "opening of canopies, their drag, factors of wear",
        "memory",
    ),
    Source(
        "martin1958",
        "Martin, Summary of flutter experiences, NACA TN 4197, 1958",
        "flutter of fins",
        "memory, constant re-derived",
    ),
    Source(
        "nasa-sl2018", "NASA Student Launch handbook, 2018", "kinetic energy at landing", "memory"
    ),
    Source(
        "noble1880",
        "Noble and Abel, Researches on explosives, 1880, as quoted by Davis",
        "work of black powder in a closed bomb",
        "seen",
    ),
    Source(
        "trade1980",
        "gas constants of black powder as the trade uses them",
        "pressure of a charge",
        "seen, common practice",
    ),
    Source(
        "icao7488",
        "ICAO Doc 7488, Manual of the ICAO Standard Atmosphere, 1993",
        "altimeter setting and station pressure",
        "memory",
    ),
    Source(
        "nfpa1125",
        "NFPA 1125, Code for the Manufacture of Model Rocket and High-Power Rocket Motors",
        "burn time and mean thrust of a label, and how far it may be off",
        "seen second-hand",
    ),
    Source(
        "wmo_extremes",
        "World Meteorological Organization, archive of weather and climate extremes",
        "highest and lowest pressure at sea level on record",
        "memory",
    ),
    Source(
        "grasha2003",
        "Grasha, planted errors found by a second check in a pharmacy, 2003",
        "what an independent second person finds",
        "seen second-hand",
    ),
    Source(
        "studentlaunch2018",
        "NASA Student Launch, tally of 44 flights of April 2018, passed on by a mentor",
        "how often recovery of student flights goes wrong, and how",
        "seen second-hand",
    ),
    Source(
        "swain1983",
        "Swain and Guttmann, Handbook of Human Reliability Analysis (THERP), NUREG/CR-1278, 1983",
        "items of a list that are left out, and what a second reader misses",
        "memory",
    ),
    Source(
        "williams1988",
        "Williams, A data-based method for assessing human error (HEART), 1988",
        "how often a routine task goes wrong",
        "seen second-hand; bounds from memory",
    ),
    Source(
        "storn1997",
        "Storn and Price, Differential evolution, J. Global Optimization 11, 1997",
        "search among whole designs",
        "memory",
    ),
    Source(
        "wood-handbook2010",
        "Wood Handbook, Forest Products Laboratory, 2010",
        "strength of wood and plywood",
        "seen (tables)",
    ),
    Source(
        "veach1995",
        "Veach and Guibas, Optimally combining sampling techniques, SIGGRAPH 1995",
        "flights drawn in several rounds counted together",
        "memory",
    ),
    Source(
        "koopman1957",
        "Koopman, The theory of search III, Operations Research 5, 1957",
        "what a walk through a patch finds",
        "memory",
    ),
    Source(
        "kull2017",
        "Kull, Silva Filho and Flach, Beta calibration, Artificial Intelligence and Statistics, "
        "2017",
        "chances made to agree with what happened",
        "memory",
    ),
    Source(
        "meeus1998",
        "Meeus, Astronomical Algorithms, 2nd edition, 1998",
        "sunset and last light",
        "memory; held by its worked examples",
    ),
)
