"""What the take-off says of its certificate: of blocks alone, with the joints where they are."""

from __future__ import annotations

import pytest

from parametric_wall.export.take_off import take_off_record
from parametric_wall.job.read import loads
from parametric_wall.pack.screen import takeoff_text
from parametric_wall.setting_out.set_out import set_out
from parametric_wall.takeoff.cutting import cut_units
from parametric_wall.takeoff.quantities import quantities

JOB = (
    'title = "long"\n[block]\nsize = "440x140x140"\n[movement]\nspacing_mm = {0}\n[[walls]]\n'
    'name = "w"\nplan = {{ shape = "straight", length_mm = 8090 }}\nheight = {{ courses = 2 }}\n'
)


@pytest.mark.parametrize(("spacing", "jointed"), [(6000, True), (9000, False)])
def test_record_and_screen_say_for_what_the_certificate_holds(spacing: int, jointed: bool) -> None:
    spec = loads(JOB.format(spacing))
    laid = set_out(spec)
    record = take_off_record(spec, laid, quantities(spec, laid), cut_units(spec, laid))
    shown = " ".join(takeoff_text(spec, laid).split())
    assert record["bonds_note"] in shown
    assert "blocks bought, not of the criteria" in record["bonds_note"]
    assert ("movement joints where they stand" in record["bonds_note"]) is jointed
