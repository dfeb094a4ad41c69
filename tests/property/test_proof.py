"""The whole proof holds of every job: nothing overlaps, no gap, all columns agree."""

from __future__ import annotations

import pytest
from hypothesis import assume, given, settings
from strategies import jobs, laid_out

from parametric_wall.checks.check import check
from parametric_wall.checks.finding import stops

pytestmark = pytest.mark.cad


@settings(max_examples=60, deadline=None)
@given(jobs())
def test_the_proof_agrees(table: dict) -> None:
    from parametric_wall.solid.model import model_of
    from parametric_wall.verify.proof import FileMeasures, prove

    spec, laid = laid_out(table)
    assume(not stops(check(spec, laid)))
    proof = prove(spec, laid, model_of(laid), FileMeasures())
    assert all(row.agrees for row in proof.rows)
    assert proof.overlap_mm3 <= 1.0
    assert proof.gap_mm3 <= 1.0
    assert proof.agrees
