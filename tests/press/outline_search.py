"""Looks for an outline in a PDF in whatever form: drawn, in forms that nothing draws, or as numbers in any stream."""

import io
import re
from collections.abc import Iterable, Iterator

import numpy as np
import pikepdf
from scipy.spatial import cKDTree

RUN = 30
"""So many sides one after the other in the same proportions are no chance."""
SLACK = 0.004
"""By what share of the mean a side may differ."""
_NUMBER = re.compile(rb"[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?")


def traces(pdf: bytes, outline: Iterable[tuple[float, float]]) -> list[str]:
    """Where a closed outline lies in a PDF, at whatever scale, turned, mirrored or begun at another point."""
    points = np.array([*outline])
    around = np.concatenate([points, points[:RUN]])
    wanted = np.concatenate([_runs(around), _runs(around[::-1])])
    tree = cKDTree(wanted)
    with pikepdf.open(io.BytesIO(pdf)) as document:
        return [name for name, chain in _chains(document) if _holds(chain, tree)]


def _holds(chain: np.ndarray, tree: cKDTree) -> bool:
    runs = _runs(chain)
    return bool(len(runs)) and bool(np.isfinite(tree.query(runs, p=np.inf, distance_upper_bound=SLACK)[0]).any())


def _runs(points: np.ndarray) -> np.ndarray:
    """The lengths of each run of sides, in shares of their mean; sides of no length are passed over."""
    if len(points) <= RUN:
        return np.empty((0, RUN))
    sides = np.hypot(*np.diff(points, axis=0).T)
    sides = sides[sides > 1e-9]
    if len(sides) < RUN:
        return np.empty((0, RUN))
    windows = np.lib.stride_tricks.sliding_window_view(sides, RUN)
    return windows / windows.mean(axis=1, keepdims=True)


def _chains(document: pikepdf.Pdf) -> Iterator[tuple[str, np.ndarray]]:
    for number, page in enumerate(document.pages, start=1):
        for chain in _drawn(page, np.eye(3), 0):
            yield f"drawn on page {number}", chain
    for item in document.objects:
        if isinstance(item, pikepdf.Stream) and item.get("/Subtype") != "/Image":
            for chain in _numbers(item.read_bytes()):
                yield f"numbers in object {item.objgen[0]}", chain
    for key, value in document.docinfo.items():
        for chain in _numbers(str(value).encode()):
            yield f"information {key}", chain


def _drawn(content: pikepdf.Page | pikepdf.Object, matrix: np.ndarray, depth: int) -> Iterator[np.ndarray]:
    """Every path as it stands on the page, through all matrices and forms."""
    assert depth < 10
    holder = content.obj if isinstance(content, pikepdf.Page) else content
    forms = (holder.get("/Resources") or pikepdf.Dictionary()).get("/XObject", pikepdf.Dictionary())
    stack, path = [], []
    for step in pikepdf.parse_content_stream(content):
        operator = str(step.operator)
        if operator == "q":
            stack.append(matrix)
        elif operator == "Q":
            matrix = stack.pop()
        elif operator == "cm":
            matrix = _matrix(step.operands) @ matrix
        elif operator in ("m", "l", "c", "v", "y"):
            if operator == "m" and path:
                yield np.array(path)
                path = []
            path.append(tuple(float(value) for value in step.operands[-2:]) @ matrix[:2, :2])
        elif operator == "Do" and str(step.operands[0]) in forms and path == []:
            form = forms[str(step.operands[0])]
            if form.get("/Subtype") == "/Form":
                own = _matrix(form.get("/Matrix", [1, 0, 0, 1, 0, 0]))
                yield from _drawn(form, own @ matrix, depth + 1)
        elif operator not in ("h", "re") and path:
            yield np.array(path)
            path = []
    if path:
        yield np.array(path)


def _matrix(values: Iterable[object]) -> np.ndarray:
    a, b, c, d, e, f = (float(value) for value in values)
    return np.array([[a, b, 0], [c, d, 0], [e, f, 1]])


def _numbers(data: bytes) -> Iterator[np.ndarray]:
    """The numbers of a stream as points: in pairs from the first or the second, or each behind a group code (DXF)."""
    found = np.array([float(number) for number in _NUMBER.findall(data)] or [0.0])
    for start, step in ((0, 1), (1, 1), (1, 2), (3, 2)):
        values = found[start::step]
        yield values[: len(values) // 2 * 2].reshape(-1, 2)
