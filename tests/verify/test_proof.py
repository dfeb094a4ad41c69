"""Faults put into a job that was set out: the proof must catch each one."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from parametric_wall.geometry import Bar, End, Placement
from parametric_wall.job.read import load, loads
from parametric_wall.job.resolve import JobSpec
from parametric_wall.setting_out.model import Piece, SettingOut
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.solid.model import model_of
from parametric_wall.verify.proof import FileMeasures, Proof, prove, read_back

pytestmark = pytest.mark.cad

PLANTER = Path(__file__).parents[2] / "examples" / "herb-planter.toml"


@pytest.fixture(scope="module")
def spec() -> JobSpec:
    return load(PLANTER)


def changed(laid: SettingOut, change: Callable[[Piece], list[Piece]]) -> SettingOut:
    """The setting-out with every piece put through a change."""
    walls = tuple(
        replace(w, pieces=tuple(p for piece in w.pieces for p in change(piece))) for w in laid.walls
    )
    return replace(laid, walls=walls)


def proof_of(spec: JobSpec, laid: SettingOut) -> Proof:
    return prove(spec, laid, model_of(laid), FileMeasures())


def rows_that_disagree(proof: Proof) -> set[str]:
    return {row.component for row in proof.rows if not row.agrees}


def test_without_a_fault_it_agrees(spec: JobSpec) -> None:
    proof = proof_of(spec, set_out(spec))
    assert proof.agrees
    assert proof.overlap_mm3 < 0.01
    assert proof.gap_mm3 < 0.01


@pytest.mark.parametrize("along", [-0.5, 0.5])
def test_a_block_moved_by_half_a_millimetre(spec: JobSpec, along: float) -> None:
    """All sums stay as they were: only the joined bodies can show it."""

    def move(piece: Piece) -> list[Piece]:
        if piece.id != "herbs/r1/c02/03":
            return [piece]
        return [replace(piece, at=Placement(along).then(piece.at))]

    proof = proof_of(spec, changed(set_out(spec), move))
    assert not rows_that_disagree(proof)
    assert not proof.agrees
    assert proof.overlap_mm3 == pytest.approx(0.5 * 140 * 140, rel=1e-6)
    assert proof.gap_mm3 == pytest.approx(0.5 * 140 * 140, rel=1e-6)
    assert any("herbs/r1/c02/03" in clash for clash in proof.clashes)


def test_a_missing_perp(spec: JobSpec) -> None:
    laid = changed(set_out(spec), lambda p: [] if p.id == "herbs/r2/c01/p01" else [p])
    proof = proof_of(spec, laid)
    assert "blocks and perps" in rows_that_disagree(proof)
    assert proof.gap_mm3 == pytest.approx(10 * 140 * 140, rel=1e-6)


def test_a_coping_too_many(spec: JobSpec) -> None:
    def twice(piece: Piece) -> list[Piece]:
        if piece.id != "herbs/r1/cop/02":
            return [piece]
        return [piece, replace(piece, id="herbs/r1/cop/02-again")]

    proof = proof_of(spec, changed(set_out(spec), twice))
    assert "copings and joints" in rows_that_disagree(proof)
    assert proof.overlap_mm3 > 1e6


def test_a_block_cut_short(spec: JobSpec) -> None:
    def cut(piece: Piece) -> list[Piece]:
        if piece.id != "herbs/r3/c03/02":
            return [piece]
        assert isinstance(piece.shape, Bar)
        return [replace(piece, shape=replace(piece.shape, end=End(piece.shape.end.at - 1)))]

    proof = proof_of(spec, changed(set_out(spec), cut))
    assert {"blocks and perps", "total in the model"} <= rows_that_disagree(proof)


def test_a_model_in_another_unit(spec: JobSpec, tmp_path: Path) -> None:
    """Files of the model in metres where mm are meant."""
    from parametric_wall.export.formats import FORMATS

    laid = set_out(spec)

    def shrink(piece: Piece) -> list[Piece]:
        a = piece.at
        at = Placement(a.x / 1000, a.y / 1000, a.z / 1000, a.heading_deg)
        if not isinstance(piece.shape, Bar):
            return []
        section = tuple((u / 1000, z / 1000) for u, z in piece.shape.section)
        ends = [End(e.at / 1000, e.per_u) for e in (piece.shape.start, piece.shape.end)]
        return [replace(piece, at=at, shape=Bar(section, *ends))]

    small = model_of(changed(laid, shrink))
    paths = {}
    for form in FORMATS:
        paths[form.suffix] = tmp_path / f"small{form.suffix}"
        paths[form.suffix].write_bytes(form.write(small))
    model = model_of(laid)
    proof = prove(spec, laid, model, read_back(paths, model))
    assert "total in the model" in rows_that_disagree(proof)
    assert "beds" in rows_that_disagree(proof)
    assert proof.misplaced


def test_a_wrong_closed_form_is_not_hidden_by_the_count(spec: JobSpec) -> None:
    """A job one course higher than what was set out."""
    text = PLANTER.read_text(encoding="utf-8")
    higher = loads(text, name="herb-planter", changes={"walls.herbs.height.courses": "4"})
    proof = proof_of(higher, set_out(spec))
    assert {"blocks and perps", "beds"} <= rows_that_disagree(proof)
