"""What must hold of the order of every job, whatever is built and however it is bought."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from strategies import jobs, laid_out

from parametric_wall.job.ordering import Packs, Waste
from parametric_wall.job.resolve import JobSpec
from parametric_wall.order.digging import backfilled, digging
from parametric_wall.order.line import OrderLine
from parametric_wall.order.materials import order_lines
from parametric_wall.order.mixing import counted_batches, mixing_sheet
from parametric_wall.order.wet import makings
from parametric_wall.takeoff.quantities import quantities

EPS = 1e-9


@st.composite
def ordered_jobs(draw: st.DrawFn) -> dict[str, Any]:
    """A job, and how it is bought, mixed and dug."""
    mixer = st.sampled_from(({"mixer_l": 90}, {"bucket_l": 14}, {"mixer_l": 120, "bucket_l": 12}))
    concretes = (
        {},
        {"made_of": "sand and coarse", "mix": "1:3:6"},
        {"made_of": "ready-mix"},
    )
    soils = (
        {},
        {"soil": "clay", "reuse_as_fill": True},
        {"soil": "loam", "compacted": True, "skip_yd": 8},
    )
    loose = ("as it suits", "25 kg bags", "bulk bags", "loose tonnes", "loose m3")
    return draw(jobs()) | {
        "packs": {
            "blocks": draw(st.sampled_from((1, 48, 72))),
            "copings": draw(st.sampled_from((1, 10))),
            "loose": draw(st.sampled_from(loose)),
        },
        "mortar": draw(st.sampled_from(({}, {"mix": "1:1:6"}, {"plasticiser_ml_per_bag": 150}))),
        "concrete": draw(st.sampled_from(concretes)),
        "mixing": draw(mixer),
        "digging": draw(st.sampled_from(soils)),
    }


def bought(spec: JobSpec, **tables: Any) -> JobSpec:
    """The same job, bought another way."""
    return replace(spec, job=spec.job.model_copy(update=tables))


def by_key(lines: tuple[OrderLine, ...]) -> dict[str, OrderLine]:
    found = {line.key: line for line in lines}
    assert len(found) == len(lines)
    return found


def reused(line: OrderLine) -> float:
    return -sum(s.adds for s in line.steps if s.adds < 0)


@settings(max_examples=40, deadline=None)
@given(ordered_jobs())
def test_no_less_is_ordered_than_is_built(table: dict[str, Any]) -> None:
    spec, laid = laid_out(table)
    for line in by_key(order_lines(spec, laid)).values():
        assert line.net >= 0
        assert line.order + reused(line) >= line.net - EPS
        assert reused(line) == 0 or line.key == "topsoil"
        if line.pack_name:
            assert line.packs == pytest.approx(round(line.packs), abs=1e-6)
        if line.unit == "nr":
            assert line.order == pytest.approx(round(line.order), abs=1e-6)
        if line.unit in ("t", "kg"):
            assert line.mass_kg == pytest.approx(line.order * (1000 if line.unit == "t" else 1))
        assert all(s.what and s.source and s.standing for s in line.steps)


@settings(max_examples=40, deadline=None)
@given(ordered_jobs())
def test_take_off_and_order_say_the_same(table: dict[str, Any]) -> None:
    """Net, and net with waste, are the take-off's; packs come on top."""
    spec, laid = laid_out(table)
    taken = {q.item: q for q in quantities(spec, laid)}
    lines = by_key(order_lines(bought(spec, packs=Packs()), laid))
    for item, q in taken.items():
        kind, _, size = item.partition("s, ")
        if kind in ("block", "coping") and size[0].isdigit():
            assert lines[f"{kind} {size}"].net == q.net
            assert lines[f"{kind} {size}"].order == pytest.approx(q.order)
    for making in makings(spec, laid):
        item = "mortar" if making.what == "mortar" else "concrete in the footing"
        assert making.net_m3 == pytest.approx(taken[item].net)
        assert making.made_m3 == pytest.approx(taken[item].order)
    if "slip ties" in taken:
        assert lines["slip tie"].net == taken["slip ties"].net
    filler = sum(x.net for key, x in lines.items() if key.startswith("joint filler"))
    assert filler == pytest.approx(taken["movement joint"].net if "movement joint" in taken else 0)


@settings(max_examples=30, deadline=None)
@given(ordered_jobs(), st.integers(0, 20), st.integers(0, 20))
def test_more_waste_never_orders_less(table: dict[str, Any], less: int, more: int) -> None:
    spec, laid = laid_out(table)

    def ordered(percent: int) -> dict[str, OrderLine]:
        names = Waste.model_fields
        waste = Waste(**dict.fromkeys(names, float(percent)))
        return by_key(order_lines(bought(spec, waste=waste), laid))

    low, high = ordered(min(less, more)), ordered(max(less, more))
    for key, line in low.items():
        assert high[key].order >= line.order - EPS
        assert high[key].net == line.net


@settings(max_examples=30, deadline=None)
@given(ordered_jobs())
def test_without_waste_and_packs_the_net_is_rounded_up(table: dict[str, Any]) -> None:
    spec, laid = laid_out(table)
    waste = Waste(**dict.fromkeys(Waste.model_fields, 0.0))
    lines = order_lines(bought(spec, waste=waste, packs=Packs(loose="loose tonnes")), laid)
    for line in lines:
        if line.unit == "nr":
            assert line.order == pytest.approx(math.ceil(round(line.net, 6)))
        elif line.unit == "t" and line.key != "topsoil":
            assert line.order == line.net


@settings(max_examples=40, deadline=None)
@given(ordered_jobs())
def test_the_batches_make_what_is_mixed(table: dict[str, Any]) -> None:
    spec, laid = laid_out(table)
    sheet = mixing_sheet(spec, laid)
    assert sheet is not None
    batches = {b.what: b for b in sheet.batches}
    assert [s.day for s in sheet.stages] == sorted({s.day for s in sheet.stages})
    for making in makings(spec, laid):
        batch = batches[making.what]
        mixed = sum(
            (s.batches + s.last) * batch.wet_l for s in sheet.stages if s.what == batch.what
        )
        assert mixed == pytest.approx(making.made_m3 * 1000)
        for part, measured in zip(making.mix.parts, batch.parts, strict=True):
            assert measured.kg == pytest.approx(part.kg * batch.wet_l / 1000)
        if spec.job.mixing.mixer_l is not None:
            assert batch.wet_l <= spec.job.mixing.mixer_l + EPS
    assert all(0 <= s.last < 1 for s in sheet.stages)


@given(st.floats(0, 1e5), st.floats(1, 2000))
def test_full_batches_and_the_last_are_the_whole(wet: float, batch: float) -> None:
    full, last = counted_batches(wet, batch)
    assert 0 <= last < 1
    assert (full + last) * batch == pytest.approx(wet, abs=1e-5)


@settings(max_examples=40, deadline=None)
@given(ordered_jobs())
def test_no_soil_comes_from_nowhere(table: dict[str, Any]) -> None:
    spec, laid = laid_out(table)
    dug = digging(spec, laid)
    back = sum(map(backfilled, spec.walls)) / 1e9 / dug.ground.compacted
    assert dug.backfill + dug.short == pytest.approx(back, abs=1e-9)
    assert dug.trench + dug.inside == pytest.approx(dug.backfill + dug.reused + dug.away, abs=1e-9)
    assert min(dug.backfill, dug.reused, dug.short, dug.away) >= -EPS
    assert dug.short < EPS or dug.away < EPS
    if dug.skips is not None:
        assert dug.skips.used * dug.skips.holds_m3 >= dug.away_loose - EPS
        assert dug.skips.used * dug.skips.payload_kg >= dug.away_kg - 1e-6
