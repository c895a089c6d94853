"""Propeller, motor, speed controller and pack."""
