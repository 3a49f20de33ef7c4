"""A solid of 100,000 triangles ends in a picture: coarser, legible, said so, and drawn from a bounded number of them."""

from dataclasses import replace

import numpy as np
import pytest
from manifold3d import Manifold

from planbook.drawing.coarse import LEFT, coarse
from planbook.drawing.findings import not_shown
from planbook.drawing.plain_sight import FINER
from planbook.drawing.portraits import piece_picture
from planbook.drawing.scene import step_picture
from planbook.drawing.svg import svg
from planbook.model import Step
from planbook.solids import Solid
from planbook.solids.solid import block
from planbook.text import Place
from planbook.workshop import Shown


def rough(share: float, about: int = 444) -> Solid:
    """A ball of 200 mm whose corners lie off it by this share of its radius, one in, one out."""
    random = np.random.default_rng(11)
    ball = Manifold.sphere(100.0, about)
    return Solid(ball.warp_batch(lambda p: p * (1 + share * random.standard_normal(len(p)))[:, None]))


def test_a_few_triangles_are_left_alone(bench):
    solids = (bench.drum(), bench.rim(), bench.bored())
    assert coarse(solids).solids == solids
    assert not coarse(solids).seen


def test_a_fine_round_shape_loses_only_what_is_not_seen():
    fine = rough(0.0)
    assert len(fine.mesh[1]) > 90_000
    found = coarse((fine,))
    assert len(found.solids[0].mesh[1]) <= LEFT
    assert not found.seen
    assert found.solids[0].volume == pytest.approx(4 / 3 * np.pi * 100**3, rel=5e-3)


@pytest.mark.parametrize("share", [0.003, 0.01, 0.05])
def test_a_rough_solid_is_drawn_coarser_and_the_finding_says_so(bench, share):
    lump = bench.piece("lump", rough(share))
    assert len(lump.solid.mesh[1]) > 90_000
    picture = step_picture(bench.timeline(lump), bench.event("turn", "front", [Shown(lump, "worked")]), 130.0, 90.0)
    assert picture.of_layer("face")
    assert len(svg(picture)) < 300_000
    (said,) = picture.missing
    assert said.startswith(FINER)
    step = Step(1, "Turn the lump", (), Place("steps.md"))
    (finding,) = not_shown(replace(bench.timeline(lump).design, steps=(step,)), {1: picture})
    assert "step 1 does not show the finest detail" in finding.headline
    assert "fewer corners" in finding.hint
    left, top, right, bottom = bench.extent(picture)
    assert right - left == pytest.approx(bottom - top, rel=0.2)


def test_the_small_picture_of_a_rough_piece_is_bounded_as_well(bench):
    picture = piece_picture(bench.piece("lump", rough(0.01)), 30.0, 30.0)
    assert picture.of_layer("face")
    assert len(svg(picture)) < 300_000


def test_what_stays_too_fine_is_drawn_as_its_box(monkeypatch):
    monkeypatch.setattr(Solid, "coarser", lambda self, by: self)
    lump, plain = rough(0.01), block((0, 0, 0), (10, 10, 10))
    found = coarse((lump, plain))
    assert found.seen
    assert found.solids[1] is plain
    assert found.solids[0].bounds == pytest.approx(np.array(lump.bounds))
