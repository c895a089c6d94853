"""Items, foam, glue, tape and wire made into mass points."""

from dataclasses import dataclass

import numpy as np

from foamwright.model import spreads
from foamwright.model.ensemble import Draws
from foamwright.model.foam import DENSITY, bare_foam
from foamwright.physics.arrays import Samples
from foamwright.plane.boxes import box_size
from foamwright.plane.gear import Item
from foamwright.plane.plane import Plane
from foamwright.problems import Finding, PlaneFileProblem
from foamwright.quantity import show

LOOSE_KINDS = ("glue", "tape", "wire", "allowance")
"""Kinds that stand for glue, tape and wire: where one is listed, no allowance is added."""

LEAST_LEFT = 0.05
"""Share of the plan that is left at least, whatever a scale showed."""


@dataclass(frozen=True, kw_only=True, slots=True)
class MassPoint:
    """One thing with a mass and a place."""

    name: str
    """The builder's name for it."""
    mass: Samples
    """All pieces together (n,) [kg]."""
    place: Samples
    """Their middle (n, 3) [m]."""
    size: tuple[float, float, float]
    """The box around one piece [m]."""
    apart: float
    """Distance of a left and right pair from the middle line [m]."""
    placed: bool
    """Whether the builder said where it is."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Masses:
    """All mass points and what they add up to."""

    points: tuple[MassPoint, ...]
    """Foam first, then the items in the order written."""
    all_up: Samples
    """Ready to fly (n,) [kg]."""
    centre: Samples
    """Centre of gravity (n, 3) [m]."""
    unplaced: tuple[str, ...]
    """Items without a place."""
    assumed: tuple[str, ...]
    """What was assumed."""
    estimated: tuple[str, ...]
    """Names whose mass was never weighed."""

    def named(self, name: str) -> MassPoint:
        """Return the mass point of that name."""
        return next(point for point in self.points if point.name == name)


def item_mass(item: Item, draws: Draws) -> tuple[Samples, str]:
    """Return the (n,) mass of one piece, and the assumption made (empty if weighed).

    Raises PlaneFileProblem for a part that nobody weighed and the stock cannot guess.
    """
    if item.mass is None:
        # Ballast, say: the stock cannot guess it, and nothing would be a false answer.
        finding = Finding(
            what="has no mass, and the stock cannot guess one",
            expected='weigh it and write for instance mass = "5 g"',
            key=f"items.{item.name}",
        )
        raise PlaneFileProblem((finding,))
    from_stock = "mass" in item.from_stock
    default = spreads.STOCK_MASS * item.mass.value if from_stock else spreads.SCALE
    mass = draws.written(
        item.mass, default, key=f"items.{item.name}.mass", label=f"mass of {item.name}"
    )
    if not from_stock:
        return np.maximum(mass, 0.0), ""
    spread = default if item.mass.spread is None else item.mass.spread
    each = " each" if item.count > 1 else ""
    text = (
        f"{item.name}: {show(item.mass.value, 'mass')} ± {show(spread, 'mass')}{each}, "
        "from the stock, not weighed"
    )
    return np.maximum(mass, 0.0), text


def item_place(item: Item, draws: Draws, fallback: Samples) -> Samples:
    """Return the (n, 3) place of the middle of an item [m]."""
    if item.at is None:
        return fallback
    label = f"place of {item.name}"
    base = f"items.{item.name}.at"
    x = draws.written(item.at.x, spreads.PLACE_X, key=f"{base}.x", label=label)
    pair = item.count == 2 and item.at.y is not None  # left and right of the middle line
    lateral = 0.0 if item.at.y is None or pair else item.at.y.value
    height = 0.0 if item.at.z is None else item.at.z.value
    y = draws.around(lateral, spreads.PLACE_YZ, key=f"{base}.y", label=label)
    return np.stack([x, y, np.full(draws.samples, height)], axis=-1)


def item_point(item: Item, draws: Draws, fallback: Samples) -> tuple[MassPoint, str]:
    """Return an item as a mass point, and the assumption made."""
    each, assumption = item_mass(item, draws)
    size = box_size(item) or (0.0, 0.0, 0.0)
    apart = item.at.y.value if item.count == 2 and item.at and item.at.y else 0.0
    point = MassPoint(
        name=item.name,
        mass=each * item.count,
        place=item_place(item, draws, fallback),
        size=size,
        apart=apart,
        placed=item.at is not None,
    )
    return point, assumption


def loose_allowance(points: list[MassPoint], draws: Draws) -> tuple[MassPoint, str]:
    """Return the allowance for glue, tape and wire where the builder listed none."""
    listed = np.sum([point.mass for point in points], axis=0)
    share = draws.around(
        spreads.GLUE_SHARE,
        spreads.GLUE_SHARE_SPREAD,
        key="allowance.share",
        label="glue, tape and wire",
    )
    # Glue and wire lie where the gear lies, not where the foam lies.
    gear = points[1:] or points
    weights = np.stack([point.mass for point in gear], axis=-1)[..., None]
    places = np.stack([point.place for point in gear], axis=1)
    place = (weights * places).sum(axis=1) / np.maximum(weights.sum(axis=1), 1e-12)
    point = MassPoint(
        name="glue, tape and wire",
        mass=share * listed,
        place=place,
        size=(0.1, 0.1, 0.02),
        apart=0.0,
        placed=True,
    )
    text = (
        f"glue, tape and wire not listed: {spreads.GLUE_SHARE:.0%} ± "
        f"{spreads.GLUE_SHARE_SPREAD:.0%} of the rest added"
    )
    return point, text


def cut_out(
    plane: Plane, holes: tuple[tuple[float, tuple[float, float, float]], ...], draws: Draws
) -> MassPoint:
    """Return the foam of the pockets as a mass point: negative, since it is taken away.

    `holes` are volume [m^3] and centre [m] of each pocket.
    """
    density, spread = DENSITY[plane.airframe.foam]
    volumes = np.array([volume for volume, _ in holes])
    whole = float(volumes.sum())
    place = volumes @ np.array([centre for _, centre in holes]) / max(whole, 1e-12)
    mass = -whole * draws.around(density, spread, key="fit.density", label="density of the foam")
    return MassPoint(
        name="foam cut out",
        mass=mass,
        place=np.repeat(place[None], draws.samples, axis=0),
        size=(0.0, 0.0, 0.0),
        apart=0.0,
        placed=True,
    )


def unplanned(points: list[MassPoint], draws: Draws, units: str) -> tuple[MassPoint, str]:
    """Return what the scale showed of the whole plane and the plan does not have.

    It is put where the plane balances: nothing tells where it is.
    """
    mass = np.stack([point.mass for point in points], axis=-1)
    place = np.stack([point.place for point in points], axis=1)
    whole = mass.sum(axis=-1)
    found = MassPoint(
        name="weighed, not in the plan",
        mass=np.maximum(draws.surplus, LEAST_LEFT * whole - whole),
        place=np.einsum("ni,nij->nj", mass, place) / whole[:, None],
        size=(0.0, 0.0, 0.0),
        apart=0.0,
        placed=True,
    )
    more = "more" if draws.surplus > 0.0 else "less"
    text = (
        f"the scale showed {show(abs(draws.surplus), 'mass', units)} {more} than the plan adds up "
        "to: taken to lie where the plane balances; weigh again, and find what it is"
    )
    return found, text


def masses(
    plane: Plane,
    draws: Draws,
    holes: tuple[tuple[float, tuple[float, float, float]], ...] = (),
) -> Masses:
    """Return all mass points of a plane; `holes` are the pockets cut out of the foam."""
    foam, assumptions = bare_foam(plane.airframe, draws)
    points = [
        MassPoint(
            name="bare foam",
            mass=foam.mass,
            place=foam.place,
            size=foam.size,
            apart=0.0,
            placed=True,
        )
    ]
    assumed = list(assumptions)
    estimated = ["bare foam"] if foam.estimated else []
    for item in plane.items:
        point, assumption = item_point(item, draws, foam.place)
        points.append(point)
        if assumption:
            assumed.append(assumption)
            estimated.append(item.name)
    if not any(item.kind in LOOSE_KINDS for item in plane.items):
        point, assumption = loose_allowance(points, draws)
        points.append(point)
        assumed.append(assumption)
    if holes:
        points.append(cut_out(plane, holes, draws))
        assumed.append("the foam of the pockets written is taken off")
    if draws.surplus:
        point, assumption = unplanned(points, draws, plane.units)
        points.append(point)
        assumed.insert(0, assumption)
    mass = np.stack([point.mass for point in points], axis=-1)
    place = np.stack([point.place for point in points], axis=1)
    all_up = mass.sum(axis=-1)
    return Masses(
        points=tuple(points),
        all_up=all_up,
        centre=np.einsum("ni,nij->nj", mass, place) / all_up[:, None],
        unplaced=tuple(point.name for point in points if not point.placed),
        assumed=tuple(assumed),
        estimated=tuple(estimated),
    )
