"""Least overlap of masonry units: BS EN 1996-1-1:2005 8.1.4.1(3), from memory; figures computed."""

from __future__ import annotations

import pytest

from parametric_wall.reference.en1996 import overlap_min


@pytest.mark.parametrize(
    ("height", "overlap"),
    [(215, 86), (190, 76), (140, 56), (100, 40), (65, 40), (290, 100), (600, 120)],
)
def test_overlap(height: float, overlap: float) -> None:
    assert overlap_min(height) == pytest.approx(overlap)


@pytest.mark.parametrize("height", [0, -140, float("nan")])
def test_a_unit_without_height_is_refused(height: float) -> None:
    with pytest.raises(ValueError, match="more than 0"):
        overlap_min(height)
