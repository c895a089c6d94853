"""Logs with channels lost, values missing and rows cut, as recorders that fall leave them."""

import numpy as np

from foamwright.debrief.recording import Recording


def broken(whole: Recording, seed: int) -> Recording:
    """Return a recording with channels gone or full of holes, its ends cut, every few rows kept."""
    random, found = np.random.default_rng(seed), {}
    for name, values in whole.channels.items():
        if random.random() < 0.25:
            continue
        left = values.copy()
        if random.random() < 0.4:
            left[random.random(left.size) < random.choice([0.1, 0.6, 0.95])] = np.nan
        if random.random() < 0.08:
            left[:] = np.nan
        found[name] = left
    size, every = whole.time.size, int(random.choice([1, 2, 5]))
    rows = slice(int(random.integers(0, size // 2)), size - int(random.integers(0, 30)), every)
    return Recording(
        time=whole.time[rows],
        channels={name: values[rows] for name, values in found.items()},
        step=whole.step * every,
    )
