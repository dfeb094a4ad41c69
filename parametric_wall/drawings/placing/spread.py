"""Texts in a row, each as near to where it is wanted as its neighbours let it."""

from __future__ import annotations

from collections.abc import Sequence


def spread(wanted: Sequence[float], sizes: Sequence[float]) -> tuple[float, ...]:
    """Places of the middles of texts that may not overlap; all of one unit.

    Args:
        wanted: the middles where they would be best, in order.
        sizes: of each text along the row, the gap to the next included.

    Returns:
        The places with the least sum of squared moves: those that crowd each other stand
        side by side about the middle of where they are wanted.
    """
    # Less the texts before it, each place may not be smaller than the one before.
    before, sums = 0.0, []
    for i, size in enumerate(sizes):
        before += (sizes[i - 1] + size) / 2 if i else 0.0
        sums.append(before)
    crowds: list[tuple[float, int]] = []
    for want, offset in zip(wanted, sums, strict=True):
        mean, count = want - offset, 1
        while crowds and crowds[-1][0] > mean:
            other, many = crowds.pop()
            mean, count = (mean * count + other * many) / (count + many), count + many
        crowds.append((mean, count))
    means = [mean for mean, count in crowds for _ in range(count)]
    return tuple(mean + offset for mean, offset in zip(means, sums, strict=True))
