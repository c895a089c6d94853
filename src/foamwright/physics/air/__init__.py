"""The air."""
