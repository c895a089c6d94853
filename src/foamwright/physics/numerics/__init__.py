"""Batched numerics: roots and table look-up."""
