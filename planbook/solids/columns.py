"""Ends and tests over the short axis of arrays: column by column where they are long, which numpy is slow at."""

import math
from functools import reduce
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

Bools = NDArray[np.bool_]
Number = TypeVar("Number", np.float64, np.int64)

LONG = 250
"""From so many rows on it is quicker to go through the columns: with 5,000 rows by ten times."""


def least(values: NDArray[Number]) -> NDArray[Number]:
    """The least over the second axis of (n,k) or (n,k,d), which must not be empty."""
    found: NDArray[Number] = values.min(axis=1) if len(values) < LONG else _over(np.minimum, values)
    return found


def most(values: NDArray[Number]) -> NDArray[Number]:
    """The greatest over the second axis of (n,k) or (n,k,d), which must not be empty."""
    found: NDArray[Number] = values.max(axis=1) if len(values) < LONG else _over(np.maximum, values)
    return found


def every(values: Bools) -> Bools:
    """Whether all of each row of (n,k) are true."""
    found: Bools = np.asarray(values.all(axis=1)) if len(values) < LONG else reduce(np.logical_and, values.T)
    return found


def some(values: Bools) -> Bools:
    """Whether any of each row of (n,k) is true."""
    found: Bools = np.asarray(values.any(axis=1)) if len(values) < LONG else reduce(np.logical_or, values.T)
    return found


def like(points: NDArray[np.float64]) -> tuple[NDArray[np.int64], Bools]:
    """An order of points (n,d) in which those that are the same follow each other, and where others begin.

    Sorted by one number for each, which is several times as quick as by all that they have. Another that happens to
    have the same number may part those that are the same, which then begin twice.
    """
    order = np.argsort(reduce(np.add, [math.sqrt(2 + k) * each for k, each in enumerate(points.T)]), kind="stable")
    new = np.ones(len(points), dtype=np.bool_)
    new[1:] = some(points[order[1:]] != points[order[:-1]])
    return order, new


def _over(which: np.ufunc, values: NDArray[Number]) -> NDArray[Number]:
    if values.ndim == 2:
        return reduce(which, values.T)
    return np.stack([reduce(which, each) for each in values.T], axis=1)
