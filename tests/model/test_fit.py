"""Everything the question of fit is decided on."""

from collections.abc import Callable

import numpy as np
import pytest

from foamwright.model.computable import ComputablePlane
from foamwright.model.fit import CUT, LOOSE, errors_of

Computed = Callable[..., ComputablePlane]


def test_every_sized_part_is_in_a_pocket_or_outside(computed: Computed) -> None:
    """Nothing with a box is lost."""
    for name in ("reedling", "windrow", "anvil"):
        plane = computed(name)
        found = {box.item for _, box in plane.fit.boxes()}
        wanted = {
            item.name
            for item in plane.plane.items
            if item.kind not in LOOSE and item.at is not None and item.size is not None
        }
        assert found == wanted


def test_a_part_taped_outside_has_no_pocket(computed: Computed) -> None:
    """The GPS sits on the boom."""
    fit = computed("reedling").fit
    assert "GPS" not in {p.item for p in fit.pockets}
    assert "GPS" in {box.item for _, box in fit.outside}


def test_what_was_taken_is_told(computed: Computed) -> None:
    """Sides that nobody wrote, and corners that nobody measured."""
    assumed = " ".join(computed("reedling").fit.assumed)
    assert "pack: pocket taken to open to the top" in assumed
    assert "fuselage: corners rounded" in assumed


def test_the_knife_slips_by_its_own_spread(computed: Computed) -> None:
    """Each item's pocket has its own draws of 0.7 mm (common practice, no source)."""
    plane = computed("reedling")
    errors = errors_of(plane.plane, plane.draws)
    pack, esc = errors.cut["pack"], errors.cut["ESC"]
    assert np.std(pack) == pytest.approx(CUT, rel=0.1)
    assert abs(np.corrcoef(pack, esc)[0, 1]) < 0.2
    assert errors.gap("pack", "pack") == pytest.approx(0.0)


def test_a_written_spread_of_the_body_counts(computed: Computed) -> None:
    """A body measured within 4 mm has skins within 2."""
    keys = {
        f"airframe.bodies.fuselage.stations.{i}.{side}": f"{value} ± 4 mm"
        for i, (wide, tall) in enumerate(
            [(20, 24), (34, 52), (34, 52), (28, 34), (22, 20), (12, 14)]
        )
        for side, value in (("width", wide), ("height", tall))
    }
    rough = computed("reedling", keys).fit_errors.body
    assert np.std(rough) == pytest.approx(2e-3, rel=0.1)


def test_errors_are_drawn_last(computed: Computed) -> None:
    """Asking about fit leaves every other answer's luck alone."""
    keys = [entry.key for entry in computed("reedling").draws.inputs()]
    older = [keys.index(key) for key in ("airframe.bare_mass", "model.drag", "model.pack_heat")]
    assert max(older) < keys.index("fit.body")
