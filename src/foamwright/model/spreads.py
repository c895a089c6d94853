"""The stated spread of each input where the builder wrote none, with its source.

One standard deviation, SI. Common practice, no source, unless said otherwise.
"""

SCALE = 0.7e-3
"""A kitchen scale that shows grams [kg]."""

STOCK_MASS = 0.10
"""Relative spread of a stock mass that states none [-]."""

PLACE_X = 2.0e-3
"""Where a part's middle ends up against the plan [m]."""

PLACE_YZ = 2.0e-3
"""The same sideways and up [m]."""

BARE_BALANCE = 3.0e-3
"""Balancing bare foam on fingertips [m]."""

BARE_BALANCE_GUESSED = 12.0e-3
"""Balance of bare foam from its volumes [m]."""

RULER = 1.0e-3
"""A steel ruler on foam [m]."""

THICKNESS = 0.5e-3
"""Thickness of a wing with a ruler [m]."""

CAMBER = 0.004
"""Camber by eye, as a share of the chord [-]."""

TWIST = 0.0087
"""Twist and rigging by eye: half a degree [rad]."""

GLUE_SHARE = 0.08
"""Glue, tape and wire as a share of what was listed, where none was listed [-]."""

GLUE_SHARE_SPREAD = 0.03
"""Its spread [-]."""

NEUTRAL_POINT = 0.033
"""Lattice and body estimate of the neutral point against flight, share of the mean chord [-]:
with a ruler's geometry the whole comes to 3-4 % (computed and common practice)."""

LIFT_SLOPE_LN = 0.06
"""ln spread of the lift slope at low Reynolds number [-]."""

DRAG_LN = 0.15
"""ln spread of everything in the drag build-up that is not sections or bodies:
interference, workmanship [-]."""

INDUCED_LN = 0.08
"""ln spread of induced drag: trim, fuselage and gaps against the Trefftz plane [-]."""

STATIC_CONDITIONS = 0.02
"""Relative spread of air density over the day's pressure [-]."""

TEMPERATURE = 5.0
"""Air temperature where it was not written [K]."""

DRAW_LN = 0.2
"""ln spread of a part's electrical draw from the stock [-]."""

CURRENT_DISCREPANCY_LN = 0.10
"""ln spread of every predicted current beyond its inputs [-]: throttle to duty, timing,
state of the pack; 10-15 % from flights of a real plane (prototype measurement)."""

PACK_CAPACITY = 0.05
"""Relative spread of a printed capacity [-]."""

USABLE = 0.03
"""Spread of the share of a charge that is used [-]."""
