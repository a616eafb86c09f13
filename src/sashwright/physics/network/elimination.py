"""Linear networks: the pressures at which given flows pass through given conductances. Compiled."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from sashwright.physics.compiled import compiled

Array = NDArray[np.float64]


@compiled
def eliminate(between: Array, ground: Array, flow: Array) -> None:
    r"""Solve a network of conductances by taking out node after node; ``flow`` becomes the pressures.

    Parameters
    ----------
    between : array (n, n)
        Conductance between any two nodes, below the diagonal; the rest is not read. Is overwritten.
    ground : array (n,)
        Conductance of each node to pressure zero. Is overwritten.
    flow : array (n,)
        Into each node; on return its pressure.

    Notes
    -----
    A star of conductances is a mesh of them: without its middle k, nodes i and j have
    :math:`g_{ij} + g_{ik} g_{kj} / \sum_l g_{kl}`. Nothing is ever subtracted, so that the conductances stay
    exact to rounding however far apart they are, where an ordinary elimination loses a group of rooms
    behind one small crack. A group without any way to the ground keeps the pressure zero in
    one of its nodes.
    """
    n = len(ground)
    for k in range(n - 1, -1, -1):
        star = between[k]
        total = ground[k]
        for j in range(k):
            total += star[j]
        # Kept for the way back.
        star[k] = total
        if total <= 0.0:
            continue
        for i in range(k):
            if star[i] == 0.0:
                continue
            share, mesh = star[i] / total, between[i]
            ground[i] += share * ground[k]
            flow[i] += share * flow[k]
            for j in range(i):
                mesh[j] += share * star[j]
    for k in range(n):
        if between[k, k] <= 0.0:
            flow[k] = 0.0
            continue
        pressure = flow[k]
        for j in range(k):
            pressure += between[k, j] * flow[j]
        flow[k] = pressure / between[k, k]
