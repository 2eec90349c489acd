"""Physical constants, reference states and documented assumptions; sources in METHODS.md."""

GRAVITY_M_S2 = 9.80665  # standard gravity, CGPM 1901
ZERO_CELSIUS_K = 273.15
STEFAN_BOLTZMANN = 5.670374419e-8  # W/(m2 K4), CODATA 2018

# Reference state of catalogue figures: losses, fan curves and cooler resistances hold here.
REFERENCE_DENSITY = 1.2  # kg/m3, customary for fan data (common practice, no source)
REFERENCE_TEMPERATURE_C = 20.0
REFERENCE_PASSING_FLOW_M3S = 0.02  # at which a cooler's R_air holds
PASSING_FLOW_FLOOR_M3S = 0.002  # stirring by the component's own fan keeps the passing flow above this

# Half of a filter's face blocked: the velocity through the rest doubles.
HALF_CLOGGED_BLOCKED_SHARE = 0.5

# Below this pressure loss laws are linear, so that their slope never vanishes.
LINEAR_BELOW_PA = 1e-3

# An opening without a fan or drives that is taller than this can pass air both ways at once.
TWO_WAY_HEIGHT_M = 0.05

# Model discrepancy, one standard uncertainty each (design prior, until measured).
DISCREPANCY_ENCLOSURE_K = 0.5
DISCREPANCY_CONFIGURATION_K = 0.5
DISCREPANCY_ENCLOSURE_DB = 0.5
DISCREPANCY_CONFIGURATION_DB = 0.5
