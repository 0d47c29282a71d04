"""What a result stands on: models, versions, inputs."""

import platform

import numpy as np

from goodflight import __version__
from goodflight.physics.aero import MODEL_SPREAD
from goodflight.studies.case.planned import Case


def stands_on(case: Case) -> tuple[tuple[str, str], ...]:
    """Names and versions behind a result, and the hash of the project's inputs."""
    return (
        ("goodflight", __version__),
        ("numpy", np.__version__),
        ("python", platform.python_version()),
        ("flight", "six degrees of freedom, Dryden turbulence, power-law wind"),
        (
            "normal force",
            "Barrowman 1966 with interference, cross-flow Allen & Perkins / Jorgensen",
        ),
        ("opening", "filling time n D / v, Knacke NWC TP 6575"),
        (
            "spread of the model",
            f"CP {MODEL_SPREAD.cp_length:.0%} of the length, drag {MODEL_SPREAD.axial:.0%}",
        ),
        ("code set", case.rules.code.title if case.rules.code is not None else "none chosen"),
        ("inputs", case.origin.inputs_hash or "not hashed"),
    )
