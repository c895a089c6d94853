"""All that is not performance, of one flight."""

from dataclasses import replace

import numpy as np
from tests.debrief.simulator import circles, fly

from foamwright.debrief.analysis import analyse
from foamwright.debrief.outcome import Facts
from foamwright.debrief.quality import read_quality
from foamwright.debrief.scene import scene_of


def test_every_subject_is_read_in_one_go() -> None:
    """Trim, link, positions and pitot of a flight that logged all of them; findings go along."""
    turning = circles(150)
    bank = turning.bank.copy()
    bank[100:] = 0.0
    log = fly(replace(turning, bank=bank))
    size = log.time.size
    more = {
        "elevator": np.full(size, 0.2),
        "link_quality": np.full(size, 0.5),
        "satellites": np.full(size, 4.0),
        "airspeed": np.full(size, 20.0),
    }
    full = replace(log, channels={**log.channels, **more})
    told = read_quality(scene_of(full, Facts())[0])
    names = {one.name for one in told.figures}
    assert names == {"elevator_trim", "poor_link", "worst_link", "poor_fix", "pitot_scale"}
    assert len(told.findings) == 4
    whole = analyse(full, Facts())
    assert names <= {one.name for one in whole.figures}
    assert set(told.findings) <= set(whole.findings)


def test_a_log_that_holds_none_of_it_says_nothing() -> None:
    """No figure, no finding, no complaint."""
    told = read_quality(scene_of(fly(circles(60)), Facts())[0])
    assert (told.figures, told.findings, told.not_said) == ((), (), ())
