"""How much of a motor's lost speed is its label, how much its load.

Data: P. Cao, J. Strawson (2018), see data/motors_README.md.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from foamwright.physics.drive.motor import PRINTED_KV

pytestmark = pytest.mark.published

BENCH = Path(__file__).parent / "data/motors_bench.csv"


def test_most_of_the_lost_speed_is_load_not_label() -> None:
    """Speed over printed Kv times volts is 0.76 ± 0.06: 6 % by the label, 19 % by the load.

    Volts are those measured under load, at full command, without the two doubtful rows.
    """
    with BENCH.open(newline="") as file:
        rows = [row for row in csv.DictReader(file) if not row["flag"]]
    share = np.array(
        [float(row["rpm_elec"]) / (float(row["kv_nominal"]) * float(row["V"])) for row in rows]
    )
    assert share.mean() == pytest.approx(0.76, abs=0.01)
    assert share.std() == pytest.approx(0.06, abs=0.01)
    assert 1.0 - share.mean() / PRINTED_KV > 2.5 * (1.0 - PRINTED_KV)
