"""Wiring and small gear."""
