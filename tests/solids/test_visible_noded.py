"""Cutting segments where they cross, held against GEOS (snap rounding of all segments at once)."""

from itertools import pairwise

import numpy as np
import pytest
import shapely

from planbook.solids.visible_noded import noded

GRID = 2.0**-13


def pieces(lines) -> set[tuple[tuple[int, int], ...]]:
    """Every stretch between two corners that follow each other, in steps of the grid, each once."""
    found = set()
    for line in lines:
        steps = [tuple(step) for step in np.rint(shapely.get_coordinates(line) / GRID).astype(int).tolist()]
        found |= {tuple(sorted(pair)) for pair in pairwise(steps)}
    return found


def cut(ends: np.ndarray) -> set[tuple[tuple[int, int], ...]]:
    """The same of what `noded` finds."""
    return {tuple(sorted(map(tuple, pair))) for pair in noded(ends, GRID).tolist()}


def rings(count: int, radius: float, middle: tuple[float, float]) -> np.ndarray:
    turns = 2 * np.pi * np.arange(count + 1) / count
    points = np.stack([middle[0] + radius * np.cos(turns), middle[1] + radius * np.sin(turns)], 1)
    return np.stack([points[:-1], points[1:]], 1)


def scattered(seed: int) -> np.ndarray:
    """Rings that cross, long lines, lines that lie almost on each other, and lines that end on others."""
    random = np.random.default_rng(seed)
    far = random.uniform(0, 40, (40, 2, 2))
    almost = far[:10] + random.uniform(-2 * GRID, 2 * GRID, (10, 2, 2))
    share = random.uniform(0, 1, (10, 1))
    foot = far[10:20, 0] * (1 - share) + far[10:20, 1] * share
    legs = np.stack([foot, foot + random.uniform(-5, 5, (10, 2))], 1)
    round_ = [rings(90, random.uniform(2, 15), tuple(random.uniform(10, 30, 2))) for _ in range(6)]
    return np.concatenate([far, almost, legs, far[:3, ::-1], *round_])


@pytest.mark.parametrize("seed", range(12))
def test_segments_are_cut_as_if_all_were_cut_together(seed):
    ends = scattered(seed)
    whole = shapely.get_parts(shapely.union_all(shapely.linestrings(ends), grid_size=GRID))
    assert cut(ends) == pieces(whole)


def test_fans_of_thin_needles_are_cut_as_if_all_were_cut_together():
    turns = np.arange(40) * 3e-5
    far = np.stack([30 * np.cos(turns), 30 * np.sin(turns)], 1)
    across = np.array([[[x, -1.0], [x, 1.0]] for x in (0.5, 3.0, 29.0)])
    ends = np.concatenate([np.stack([np.zeros_like(far), far], 1), across])
    whole = shapely.get_parts(shapely.union_all(shapely.linestrings(ends), grid_size=GRID))
    assert cut(ends) == pieces(whole)


def test_of_nothing_there_is_nothing():
    assert len(noded(np.empty((0, 2, 2)), GRID)) == 0
    assert len(noded(np.full((1, 2, 2), 3.0), GRID)) == 0
