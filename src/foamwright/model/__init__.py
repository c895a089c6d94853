"""The only bridge from a plane to arrays."""
