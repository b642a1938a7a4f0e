"""How a rigid block shares its force over the nodes it touches."""

import math

import numpy as np

from tintop.car.cage import NodeForce, Vector
from tintop.car.cage_limit import StandingCage
from tintop.physics.frame import FloatArray, solve


def shared(standing: StandingCage, nodes: list[str], press: Vector, force: float) -> tuple[NodeForce, ...]:
    """Share a force [N] of a block, guided along its press, that pushes every node it rests on equally far.

    A node that would have to be pulled is let go. The shares are the elastic frame's and stay as they are
    beyond it: a block free to shift its force to what still stands carries as much or more.
    Source: elastic contact of a rigid flat die; static theorem, as in `frame_limit.limit_factor`.
    """
    number = {node.name: place for place, node in enumerate(standing.cage.nodes)}
    places = [number[node] for node in nodes]
    units = np.zeros((len(nodes), len(number), 6))
    units[np.arange(len(nodes)), places, :3] = press
    given = solve(standing.ready, units).moves[:, places, :3] @ np.array(press)
    shares = die_shares(given)
    pushed = [(node, float(share)) for node, share in zip(nodes, shares, strict=True) if share > 0.0]
    return tuple(_pushed(node, press, force * share) for node, share in pushed)


def shared_alike(nodes: list[str], press: Vector, force: float) -> tuple[NodeForce, ...]:
    """Share a force [N] over nodes in equal parts."""
    return tuple(_pushed(node, press, force / len(nodes)) for node in nodes)


def _pushed(node: str, press: Vector, force: float) -> NodeForce:
    return NodeForce(node=node, force=(press[0] * force, press[1] * force, press[2] * force))


def die_shares(flexibility: FloatArray) -> FloatArray:
    """Give the shares (k,) of a force that push k places equally far; a place to be pulled gets none.

    `flexibility` (k, k) is how far a unit force at one place pushes each.
    """
    rests = np.ones(flexibility.shape[0], dtype=bool)
    while True:
        found = np.zeros(rests.size)
        found[rests] = np.linalg.solve(flexibility[np.ix_(rests, rests)], np.ones(int(rests.sum())))
        if (found >= 0.0).all():
            return np.asarray(found / math.fsum(found))
        rests &= found > 0.0
