"""Figures that everything shares: exact by definition, of the standard air, of a normal spread.

Each stands here alone; a test finds a second home.
"""

from typing import Final

STANDARD_GRAVITY_M_S2: Final = 9.80665  # exact, 3rd CGPM 1901
INCH_M: Final = 0.0254  # exact
FOOT_M: Final = 0.3048  # exact
POUND_KG: Final = 0.45359237  # exact
ZERO_C_K: Final = 273.15  # exact, 0 degC

SEA_LEVEL_PRESSURE_PA: Final = 101325.0  # exact, one atmosphere
SEA_LEVEL_TEMPERATURE_K: Final = 288.15  # [usstd1976]
SEA_LEVEL_DENSITY_KG_M3: Final = 1.225  # [usstd1976] table 1
SEA_LEVEL_SOUND_M_S: Final = 340.294  # [usstd1976] table 1, sqrt(1.4 R 288.15 K)
GAS_CONSTANT: Final = 287.05287  # J/(kg K), dry air; [usstd1976] 8314.32 / 28.9644, cut off
HEAT_RATIO: Final = 1.4  # of air
LAPSE_K_M: Final = 0.0065  # of the troposphere

# standard deviations either side that hold a half and nine tenths of a normal
HALF_NORMAL: Final = 0.6745
NINE_TENTHS: Final = 1.6449
