"""What a flight told: reading logs, segments, wind, performance, wobble, the search area."""
