"""Ends and tests over the short axis of arrays: column by column where they are long, which numpy is slow at."""

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


def _over(which: np.ufunc, values: NDArray[Number]) -> NDArray[Number]:
    if values.ndim == 2:
        return reduce(which, values.T)
    return np.stack([reduce(which, each) for each in values.T], axis=1)
