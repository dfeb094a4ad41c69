"""Lines that not every job has: packs, rolls, ties, dosage, ready-mixed concrete; and bad input."""

from __future__ import annotations

import pytest

from parametric_wall.errors import JobError
from parametric_wall.job.read import loads
from parametric_wall.order.line import OrderLine, Step
from parametric_wall.order.materials import order_lines
from parametric_wall.order.mixing import mixing_sheet
from parametric_wall.order.wet import makings
from parametric_wall.pack import tables
from parametric_wall.pack.order_screen import barely_used
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.quantities import Quantity

JOB = """
title = "order"
{more}
[block]
size = "440x100x140"
[coping]
size = "600x220x50"
[[walls]]
name = "w"
plan = {{ shape = "straight", length_mm = 5390 }}
height = {{ courses = {courses} }}
dpc = {{ under_course = 2 }}
{wall}
"""


def spec_of(more: str = "", wall: str = "", courses: int = 3):
    return loads(JOB.format(more=more, wall=wall, courses=courses))


def lines(more: str = "", wall: str = "") -> dict[str, OrderLine]:
    spec = spec_of(more, wall)
    return {line.key: line for line in order_lines(spec, set_out(spec))}


def test_packs_come_on_top_of_waste_and_waste_on_top_of_cutting() -> None:
    """Three courses of twelve blocks, the middle one with two halves out of one: 36; 37.8; 38."""
    singly = lines()["block 440x100x140"]
    assert (singly.net, singly.order) == (36, pytest.approx(38))
    assert "2 pieces" in singly.where
    packed = lines("[packs]\nblocks = 20")["block 440x100x140"]
    assert (packed.net, packed.order, packed.packs) == (36, pytest.approx(40), pytest.approx(2))
    sized = lines('[packs]\nsizes = { "440x100x140" = 50 }\nblocks = 20')["block 440x100x140"]
    assert sized.order == pytest.approx(50)
    # 440 x 100 x 140 at 2000 kg/m3 is 12.32 kg.
    assert sized.mass_kg == pytest.approx(50 * 12.32)


def test_a_dosage_is_never_invented() -> None:
    line = lines()["plasticiser"]
    assert (line.net, line.order) == (0, 0)
    assert "maker" in line.steps[0].what
    given = lines("[mortar]\nplasticiser_ml_per_bag = 150")
    mortar_kg = float(given["cement"].where.split("mortar ")[1].split(" kg")[0])
    assert given["plasticiser"].order == pytest.approx(mortar_kg / 25 * 150, abs=3)
    assert "plasticiser" not in lines("[mortar]\nplasticiser = false")
    assert "plasticiser" not in lines('[mortar]\nmix = "1:1:6"')


def test_lime_comes_in_its_own_bags() -> None:
    found = lines('[mortar]\nmix = "1:1:6"')
    assert found["lime"].packs == pytest.approx(1)
    assert "lime" not in lines()


def test_rolls_of_damp_proof_course_lap_where_they_end() -> None:
    """5.39 m from rolls of 2 m with laps of 100: three rolls, two laps.

    Without a length of roll 5 % (from memory).
    """
    assert lines()["damp-proof course 100 wide"].order == pytest.approx(5.39 * 1.05)
    line = lines("[packs]\ndpc_roll_m = 2")["damp-proof course 100 wide"]
    assert [s.adds for s in line.steps] == pytest.approx([0.2, 0.41])
    assert line.packs == pytest.approx(3)


def test_ready_mixed_concrete_has_a_least_load() -> None:
    found = lines('[concrete]\nmade_of = "ready-mix"\nready_mix = "ST2"')
    line = found["ready-mixed concrete ST2"]
    assert line.order == pytest.approx(1.0)
    assert "part-load" in line.where
    assert "ballast" not in found
    free = lines('[concrete]\nmade_of = "ready-mix"\nready_mix = "ST2"\nleast_load_m3 = 0')
    assert free["ready-mixed concrete ST2"].order == pytest.approx(line.net * 1.1)


@pytest.mark.parametrize(
    ("joint", "fixing", "key"),
    [
        ("movement", "ties", "end tie, sliding"),
        ("mortar", "ties", "end tie"),
        ("mortar", "toothing", None),
    ],
)
def test_ties_at_existing_walls(joint: str, fixing: str, key: str | None) -> None:
    """Three courses of 150 make 450: two ties 300 apart."""
    end = f'end = {{ kind = "abutment", joint = "{joint}", fixing = "{fixing}" }}'
    ties = {k: x.order for k, x in lines(wall=end).items() if "tie" in k}
    assert ties == ({} if key is None else {key: pytest.approx(2)})


def test_a_little_comes_in_small_bags_and_more_in_bulk_bags() -> None:
    found = lines()
    assert found["building sand"].pack_name == "bag of 25 kg"
    assert found["ballast"].pack_name.startswith("bulk bag")
    assert lines('[packs]\nloose = "loose m3"')["ballast"].unit == "m3"


def test_no_sheet_without_a_mixer_or_a_bucket() -> None:
    spec = spec_of()
    assert mixing_sheet(spec, set_out(spec)) is None


def test_batches_are_counted_in_buckets() -> None:
    """Common practice: 6:1 and 3:1; a 90 l mixer takes one bucket of 14 l of cement for 6:1."""
    spec = spec_of("[mixing]\nmixer_l = 90\nbucket_l = 14\n[mortar]\nplasticiser_ml_per_bag = 100")
    sheet = mixing_sheet(spec, set_out(spec))
    assert sheet is not None
    mortar, concrete = sheet.batches
    assert [p.buckets for p in concrete.parts] == pytest.approx([1, 6])
    assert [p.buckets for p in mortar.parts] == pytest.approx([2, 6])
    # 28 l of cement at 1440 kg/m3 are 40.32 kg: 1.6128 bags.
    assert mortar.plasticiser_ml == pytest.approx(161.28)
    assert concrete.plasticiser_ml is None


def test_a_lift_is_a_day_and_six_courses() -> None:
    spec = spec_of("[mixing]\nmixer_l = 90", courses=8)
    sheet = mixing_sheet(spec, set_out(spec))
    assert sheet is not None
    assert [s.name for s in sheet.stages] == ["footing", "lift 1", "lift 2", "copings"]
    one, two = (s.wet_l for s in sheet.stages[1:3])
    assert one / two == pytest.approx(3, rel=0.05)  # six courses and two
    ready = spec_of('[mixing]\nmixer_l = 90\n[concrete]\nmade_of = "ready-mix"', courses=8)
    sheet = mixing_sheet(ready, set_out(ready))
    assert sheet is not None
    assert (sheet.stages[0].day, sheet.stages[0].name) == (2, "lift 1")


BAD = {
    "[mixing]\nmixer_l = 0": "mixing.mixer_l",
    "[mixing]\nmixer_l = 10\nbucket_l = 14": "mixing.mixer_l",
    '[mortar]\nmix = "M5"': "mortar.mix",
    '[mortar]\nmix = "1:0"': "mortar.mix",
    '[mortar]\nmix = "0:3"': "mortar.mix",
    '[mortar]\nmix = "1:50"': "mortar.mix",
    '[mortar]\nmix = "3"': "mortar.mix",
    '[mortar]\nmix = "1:2:3:4"': "mortar.mix",
    "[mortar]\nplasticiser_ml_per_bag = 0": "mortar.plasticiser_ml_per_bag",
    "[packs]\nblocks = 0": "packs.blocks",
    '[packs]\nsizes = { "440x100x140" = 0 }': "packs.sizes",
    '[packs]\nsizes = { "9x9x9" = 10 }': "packs.sizes",
    "[waste]\nblock_percent = -1": "waste.block_percent",
    '[concrete]\nmix = "1:8"': "concrete.mix",
    '[concrete]\nmade_of = "sand and coarse"\nmix = "1:6"': "concrete.mix",
    '[concrete]\nmade_of = "ready-mix"\nmix = "1:6"': "concrete.mix",
    "[concrete]\ndry_to_wet = 1.54": "concrete.dry_to_wet",
    '[digging]\nsoil = "mud"': "digging.soil",
    "[digging]\nskip_yd = 5": "digging.skip_yd",
    "[digging]\nskip_payload_kg = 4000": "digging.skip_payload_kg",
    "[digging]\ncompacted = true": "digging.compacted",
}


@pytest.mark.parametrize("text", BAD)
def test_nonsense_is_a_fault_at_its_key(text: str) -> None:
    with pytest.raises(JobError) as caught:
        spec_of(text)
    (fault,) = caught.value.faults
    assert fault.path == BAD[text]
    assert fault.problem


def test_a_small_mixer_takes_cement_by_the_quarter_bucket() -> None:
    """Concrete 6:1 with 285 kg to the m3: 20 l of cement make 101 l; 40 l take 0.40, so 0.25."""
    spec = spec_of("[mixing]\nmixer_l = 40\nbucket_l = 20")
    sheet = mixing_sheet(spec, set_out(spec))
    assert sheet is not None
    assert [p.buckets for p in sheet.batches[1].parts] == pytest.approx([0.25, 1.5])


def test_waste_of_the_mortar_is_in_its_sand_and_its_cement() -> None:
    """1:3 takes 0.9975 m3 of sand to the m3 (estimating notes), here at 1.5 t/m3, and 10 % more."""
    more = '[packs]\nloose = "loose tonnes"\n[waste]\nmortar_percent = {}\nconcrete_percent = 0'
    none, ten = (lines(more.format(percent)) for percent in (0, 10))
    assert ten["building sand"].order == pytest.approx(1.1 * none["building sand"].order)
    spec = spec_of()
    volume = makings(spec, set_out(spec))[0].net_m3
    assert none["building sand"].net == pytest.approx(volume * 0.9975 * 1.5)
    waste = next(s for s in ten["cement"].steps if "mortar" in s.what)
    assert waste.adds == pytest.approx(0.1 * volume * 478.8)


PLANTER = """
title = "planter"
{more}
[block]
size = "290x140x140"
[[walls]]
name = "w"
plan = {{ shape = "rectangle", length_mm = 1940, width_mm = 1040 }}
height = {{ courses = 3 }}
fill = {{ base_level_mm = {base}, drainage_mm = 100, below_coping_mm = 50 }}
weeps = {{ kind = "tubes", spacing_mm = 900 }}
"""


@pytest.mark.parametrize(("base", "high"), [(0, 0.35), (-120, 0.40)])
def test_sheets_in_a_planter(base: int, high: float) -> None:
    """By hand: inside 1660 x 760; soil up to 350; the wall begins at -50. Laps 10 %: memory."""
    spec = loads(PLANTER.format(more="", base=base))
    found = {line.key: line for line in order_lines(spec, set_out(spec))}
    assert found["geotextile"].net == pytest.approx(1.66 * 0.76)
    assert found["back-face membrane"].net == pytest.approx(2 * (1.66 + 0.76) * high)
    assert found["back-face membrane"].order == pytest.approx(2 * (1.66 + 0.76) * high * 1.1)
    # Centre line 2 x (1800 + 900) = 5400: six tubes at 900.
    assert found["weep tube"].order == pytest.approx(6)


def test_a_planter_lined_as_the_job_says() -> None:
    more = '[planting]\ngeotextile = false\nback_face = "none"'
    spec = loads(PLANTER.format(more=more, base=0))
    keys = {line.key for line in order_lines(spec, set_out(spec))}
    assert keys.isdisjoint({"geotextile", "back-face membrane"})
    assert {"drainage gravel", "topsoil"} <= keys


def test_a_bulk_bag_bought_for_a_kilogram_says_so() -> None:
    """801 kg in bulk bags of 800: the second is for 1 kg, which one bag of 25 kg holds."""
    step = Step("rounded up to whole bags", 0.799, "", "")
    line = OrderLine("ballast", "concrete", "t", 0.801, (step,), 0.8, "bulk bag of 800 kg")
    assert "1 bag of 25 kg beside the others would do" in next(barely_used(line))
    half = OrderLine("ballast", "concrete", "t", 1.2, (), 0.8, "bulk bag of 800 kg")
    assert list(barely_used(half)) == []


def test_no_line_of_the_take_off_is_wider_than_the_screen() -> None:
    long = "a rule of many words " * 12
    shown = tables.quantities((Quantity("mortar", "m3", 0.069, 0.076, long),))
    assert max(map(len, shown.splitlines())) <= 96
