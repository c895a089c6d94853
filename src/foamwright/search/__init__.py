"""Search for what the builder did not think of: places for the gear, and what to do next."""
