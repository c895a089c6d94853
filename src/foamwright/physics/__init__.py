"""The physics: SI arrays in, SI arrays out; the first axis is the ensemble sample."""
