"""The one number of the normal that every band is drawn with."""

TENTH = 1.2815515655446004
"""Standard deviations from the middle of a normal to its 10 % and 90 % points (own-derivation)."""
