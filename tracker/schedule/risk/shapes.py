"""The shapes of uncertain durations as tables: from a standard normal score to days.

Every duration is drawn through a score, so that common cause (a Gaussian copula) is a sum of
scores. A table holds the quantile function of one three-point duration at evenly spaced scores, to
be interpolated linearly between them.

PERT-beta, shape 4: Beta(1 + 4 (m-a)/(b-a), 1 + 4 (b-m)/(b-a)) on [a, b]; mean (a + 4m + b) / 6.
Triangular: the quantile function in closed form.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from tracker.schedule.risk.input import ThreePoint

Row = NDArray[np.float32]
Exact = NDArray[np.float64]

REACH = 6.3
"""The largest score that a table holds.

Two scores of at most 4.33 each, weighed by the copula, stay below 6.2.
"""
PER_SCORE = 100
"""Table cells for each unit of the score."""
CELLS = round(2 * REACH * PER_SCORE)
LEVELS = 1 << 16
"""A score takes one of so many equally likely values: the random numbers are drawn as 16 bits each.
"""
SHAPE = 4
"""The weight of the likely value in the PERT-beta distribution."""


THREE = ("optimistic", "likely", "pessimistic")


@lru_cache(maxsize=1)
def scores() -> Row:
    """The score of each of the equally likely levels, in cells from the tables' middle: the normal
    quantile of its middle.
    """
    grid, chance = cumulated()
    middle = (np.arange(LEVELS) + 0.5) / LEVELS
    return (np.interp(middle, chance, grid) * PER_SCORE).astype(np.float32)


@lru_cache(maxsize=1)
def scores_from_edge() -> Row:
    """The same in cells from the tables' first edge."""
    return scores() + np.float32(CELLS / 2)


@lru_cache(maxsize=1)
def cumulated() -> tuple[Exact, Exact]:
    """Scores at the edges of the tables' cells, and the normal probability below each."""
    grid = np.linspace(-REACH, REACH, CELLS + 1)
    return grid, np.array([0.5 * math.erfc(-z / math.sqrt(2)) for z in grid])


@lru_cache(maxsize=4)
def tables(shape: str, days: tuple[ThreePoint, ...]) -> tuple[Row, Row]:
    """For each three-point duration its days at the edges of the cells, and the step to the next
    edge. One row each.
    """
    if not days:
        return np.empty((0, CELLS + 1), np.float32), np.empty((0, CELLS + 1), np.float32)
    low, mode, high = (np.array([getattr(d, name) for d in days], float)[:, None] for name in THREE)
    width = np.where(high > low, high - low, 1)
    share = (mode - low) / width
    standard = (triangular if shape == "triangular" else pert)(share)
    edges = low + (high - low) * standard
    steps = np.diff(edges, axis=1, append=edges[:, -1:])
    return edges.astype(np.float32), steps.astype(np.float32)


def triangular(share: Exact) -> Exact:
    """The quantiles of triangular durations on [0, 1]; share: where the likely value lies.

    One row each.
    """
    _, chance = cumulated()
    rising = np.sqrt(chance * share)
    falling = 1 - np.sqrt((1 - chance) * (1 - share))
    return np.where(chance <= share, rising, falling)


def pert(share: Exact) -> Exact:
    """The quantiles of PERT-beta durations on [0, 1], by adding up the density.

    One row each; equal shares once.
    """
    known, which = np.unique(share[:, 0], return_inverse=True)
    return np.array(list(beta_quantiles(known)))[which]


def beta_quantiles(shares: Exact) -> Iterable[Exact]:
    """The quantiles of Beta(1 + 4s, 5 - 4s) at the cells' edges, for each share s.

    The density is added up (trapezoids) over x = t^2 (3 - 2t), which puts the points close together
    at both ends.
    """
    _, chance = cumulated()
    t = np.linspace(0, 1, 801)
    x = t * t * (3 - 2 * t)
    with np.errstate(divide="ignore"):
        log_x, log_rest = np.log(x), np.log1p(-x)
    for s in shares:
        rise = SHAPE * s
        density = np.zeros_like(t)
        density[1:-1] = (
            np.exp(rise * log_x[1:-1] + (SHAPE - rise) * log_rest[1:-1])
            * 6
            * t[1:-1]
            * (1 - t[1:-1])
        )
        below = np.concatenate(([0.0], np.cumsum(density[1:] + density[:-1])))
        yield np.interp(chance, below / below[-1], x)
