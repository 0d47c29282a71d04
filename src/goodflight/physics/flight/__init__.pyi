# the names of `_HOMES`, for the type checker; tests/unit/test_flight_cache.py compares them
from goodflight.physics.flight.ensemble import Recorded as Recorded
from goodflight.physics.flight.ensemble import column_spacing as column_spacing
from goodflight.physics.flight.ensemble import fly_ensemble as fly_ensemble
from goodflight.physics.flight.ensemble import fly_history as fly_history
from goodflight.physics.flight.launch import Launch as Launch
from goodflight.physics.flight.ready import compiled_before as compiled_before
from goodflight.physics.flight.ready import make_ready as make_ready
from goodflight.physics.flight.registry import BY_ALTIMETER as BY_ALTIMETER
from goodflight.physics.flight.registry import BY_DELAY as BY_DELAY
from goodflight.physics.flight.registry import NOTHING_OPENS as NOTHING_OPENS
from goodflight.physics.flight.registry import OUTCOME_INDEX as OUTCOME_INDEX
from goodflight.physics.flight.registry import OUTCOMES as OUTCOMES
from goodflight.physics.flight.registry import PARAMETER_INDEX as PARAMETER_INDEX
from goodflight.physics.flight.registry import PARAMETERS as PARAMETERS
from goodflight.physics.flight.registry import TOLERANCE as TOLERANCE
