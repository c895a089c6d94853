"""Lifting surfaces, sections and drag."""
