"""The names of everything that goes into one simulated flight and everything that comes out.

The compiled kernel works on plain arrays; these registries are the only place that says which
column is which. Frames: world x east, y north, z up, origin on the ground under the pad; body
x along the axis to the nose, y and z across; stations are metres aft of the nose tip.
"""

from typing import Final

# one row per flight, one column per name
PARAMETERS: Final[tuple[str, ...]] = (
    # vehicle without propellant (motor case included)
    "dry_mass_kg",
    "dry_cg_m",
    "dry_pitch_inertia_kg_m2",  # about the dry CG, any transverse axis
    "dry_roll_inertia_kg_m2",
    "propellant_kg",
    "propellant_cg_m",
    "propellant_length_m",
    "propellant_radius_m",
    "nozzle_m",  # station of the nozzle exit, for jet damping
    # motor
    "thrust_factor",
    "burn_time_factor",
    "delay_s",  # from burnout to ejection, as it will burn (cut and scatter included)
    "thrust_angle_y_rad",  # thrust line tilted towards body y
    "thrust_angle_z_rad",
    "thrust_offset_y_m",
    "thrust_offset_z_m",
    # aerodynamics, on top of the vehicle's tables
    "axial_factor",
    "body_slope_factor",
    "fin_slope_factor",
    "cp_shift_m",  # moves the total small-angle CP aft (+)
    "crossflow_factor",
    "cant_roll_rad",  # mean cant of all fins
    "cant_y_rad",  # sum over fins of cant x direction, over fin count: side force along body y
    "cant_z_rad",
    # rail
    "rail_length_m",
    "rail_tilt_rad",  # from vertical
    "rail_azimuth_rad",  # the way the top leans, clockwise from north
    "rail_friction",  # of the guides in the slot
    "guide_fore_m",
    "guide_aft_m",
    "tail_m",  # station of the tail end, which sits on the stop
    "stop_height_m",  # of the tail above the rail's lower end
    "rail_base_m",  # height of the rail's lower end above ground
    # air
    "wind_m_s",
    "wind_from_rad",
    "wind_height_m",
    "wind_exponent",
    "gust_sigma_m_s",  # of the along-wind turbulence at `wind_height_m`
    "ground_temperature_k",
    "ground_pressure_pa",
    "gravity_m_s2",
    # recovery: first canopy at ejection (or at apogee by altimeter), second by height
    "tumble_area_m2",  # drag area of the opened, tumbling rocket
    "stretch_s",  # from ejection to line stretch
    "canopy_area_m2",  # drag area Cd.S
    "canopy_diameter_m",
    "canopy_fill",  # fill constant n: fill time = n D / v
    "canopy_growth",  # exponent j of the growing drag area
    "canopy_overshoot",  # opening force factor Cx, infinite mass
    "main_height_m",  # second canopy opens below this height; 0 = none
    "main_area_m2",
    "main_diameter_m",
    "main_fill",
    "main_growth",
    "main_overshoot",
    "apogee_lag_s",  # altimeter mode: from apogee to ejection
)

# what acts only from ejection on: flights that differ in these alone share their way up
AFTER_ASCENT: Final[tuple[str, ...]] = (
    "delay_s", "tumble_area_m2", "stretch_s",
    "canopy_area_m2", "canopy_diameter_m", "canopy_fill", "canopy_growth", "canopy_overshoot",
    "main_height_m", "main_area_m2", "main_diameter_m", "main_fill", "main_growth",
    "main_overshoot", "apogee_lag_s",
)  # fmt: skip

# of one step; held to the promised accuracy in tests/unit/test_flight_accuracy.py
TOLERANCE: Final = 5e-5

# what triggers the first deployment
BY_DELAY: Final = 0  # motor delay from burnout
BY_ALTIMETER: Final = 1  # apogee + apogee_lag_s
NOTHING_OPENS: Final = 2  # nose first from apogee to the ground

# values of the outcome `status`
COMPLETE: Final = 0.0
NEVER_LEFT: Final = 1.0
GAVE_UP: Final = 2.0
NOTHING_OPEN: Final = 3.0

# one row per flight; angles rad, heights above the pad's ground, NaN = did not happen
OUTCOMES: Final[tuple[str, ...]] = (
    # 0 complete; 1 never left the rail; 2 gave up (step limit); 3 down with nothing open
    "status",
    "liftoff_mass_kg",
    "thrust_to_weight",  # mean thrust of the first 0.5 s (as drawn) over lift-off weight
    "thrust_to_weight_mean",  # mean thrust of the whole burn over lift-off weight
    "liftoff_s",
    "guide_exit_s",  # forward guide leaves
    "guide_exit_m_s",
    "rail_exit_s",  # last guide leaves
    "rail_exit_m_s",
    "rail_exit_wind_m_s",  # air speed across the rocket's axis then
    "rail_exit_incidence_rad",
    "rail_exit_rate_rad_s",  # pitch/yaw rate left by the one-guide phase
    "margin_exit_cal",  # small-angle static margin then
    "margin_exit_incidence_cal",  # at the incidence then
    "max_speed_m_s",
    "max_speed_s",
    "max_mach",
    "max_speed_height_m",
    "max_pressure_pa",  # dynamic pressure
    "max_acceleration_m_s2",
    # after rail exit, until apogee, while dynamic pressure > 5 % of its greatest so far
    "max_incidence_rad",
    # after rail exit, until apogee, while dynamic pressure > 10 % of its greatest so far
    "max_spin_ratio",  # roll rate over the rate that would meet the pitch frequency
    "spin_incidence_rad",  # greatest incidence while that ratio is a half or more; 0 = never
    "max_side_load_n",  # air's force across the axis
    "min_margin_cal",  # small-angle, rail exit to burnout
    "min_margin_s",
    "min_margin_incidence_cal",  # at the incidence flown, rail exit to burnout
    "margin_liftoff_cal",
    "margin_burnout_cal",
    "burnout_s",
    "burnout_m",
    "burnout_m_s",
    "burnout_roll_rad_s",
    "max_roll_rad_s",
    "burnout_tilt_rad",  # axis from vertical
    "apogee_s",
    "apogee_m",
    "apogee_m_s",  # air speed at apogee
    "apogee_east_m",
    "apogee_north_m",
    "apogee_east_m_s",  # over the ground
    "apogee_north_m_s",
    "ejection_s",
    "ejection_m",
    "ejection_m_s",  # air speed at ejection
    "ejection_climb_m_s",  # vertical speed then, up positive
    "opening_m_s",  # air speed at line stretch of the first canopy
    "opening_m",
    "opening_force_n",  # greatest canopy force while it fills, from the motion
    "main_s",  # second canopy's charge
    "main_m",
    "main_opening_m_s",
    "main_opening_force_n",
    "descent_m_s",  # speed down through the air at the ground
    "landing_s",
    "landing_m_s",  # total speed over ground at touch-down
    "landing_east_m",
    "landing_north_m",
    "steps",
)

PARAMETER_INDEX: Final = {name: i for i, name in enumerate(PARAMETERS)}
OUTCOME_INDEX: Final = {name: i for i, name in enumerate(OUTCOMES)}

# columns of the aerodynamic table, one row per Mach number 0, step, 2 step ...
AERO_COLUMNS: Final[tuple[str, ...]] = (
    "body_slope",  # sum of dCN/d(alpha) of the bodies, no fins [1/rad]
    "body_moment_m",  # sum of slope x CP station [m/rad]
    "body_second_m2",  # sum of slope x CP station squared [m2/rad]
    "fin_slope",  # of the whole fin set, body interference both ways included [1/rad]
    "fin_cp_m",  # station of the fin set's CP, interference included
    "axial_low",  # axial force coefficient at zero incidence, coasting, at the pad's height
    "axial_high",  # the same 3000 m higher
    "axial_burn",  # taken off the axial coefficient while the motor burns (>= 0)
    "roll_force",  # rolling moment coefficient per rad of mean cant, reference length d [1/rad]
    "roll_damp",  # rolling moment coefficient per (p d / 2V), negative [1/rad]
    "fin_side",  # side force coefficient per rad of cant_y (or cant_z) [1/rad]
)
AERO_INDEX: Final = {name: i for i, name in enumerate(AERO_COLUMNS)}
MACH_STEP: Final = 0.02
MACH_COUNT: Final = 101  # 0 ... 2.0

# numbers that belong to the vehicle and not to a Mach number
AERO_SCALARS: Final[tuple[str, ...]] = (
    "area_m2",  # reference area, pi d^2 / 4
    "diameter_m",  # reference length, the greatest body diameter
    "length_m",
    "planform_m2",  # side area of the bodies
    "planform_cp_m",  # its centroid
    "crossflow_eta",  # finite-length factor of the cross-flow drag
    "fin_stall_start_sin2",  # sin^2 of the incidence where the fins begin to stall
    "fin_stall_end_sin2",  # and where they are plates
    "fin_plate_m2",  # fin area that counts broadside
)
AERO_SCALAR_INDEX: Final = {name: i for i, name in enumerate(AERO_SCALARS)}
