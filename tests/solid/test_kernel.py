"""The kernel as a guest: quiet, and its settings as they were."""

from __future__ import annotations

import subprocess
import sys

import pytest
from OCP.Interface import Interface_Static
from OCP.Message import Message, Message_Gravity
from OCP.STEPControl import STEPControl_Writer

from parametric_wall.solid import kernel

pytestmark = pytest.mark.cad

UNIT, MODE = "write.step.unit", "write.surfacecurve.mode"


def say(text: str) -> None:
    Message.DefaultMessenger_s().Send(text, Message_Gravity.Message_Fail)


def test_quiet_is_quiet_and_the_kernel_speaks_again_after(
    capfd: pytest.CaptureFixture[str],
) -> None:
    say("before")
    with kernel.quiet():
        say("inside")
    say("after")
    heard = capfd.readouterr()
    assert "inside" not in heard.out + heard.err
    assert "before" in heard.out + heard.err
    assert "after" in heard.out + heard.err


def test_quiet_ends_with_its_block_even_when_that_fails(capfd: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(RuntimeError), kernel.quiet():
        raise RuntimeError
    say("after")
    heard = capfd.readouterr()
    assert "after" in heard.out + heard.err


def fail_while_set(number: int) -> None:
    with kernel.settings({UNIT: "INCH"}, {MODE: number}):
        assert Interface_Static.CVal_s(UNIT) == "INCH"
        assert Interface_Static.IVal_s(MODE) == number
        raise RuntimeError


def test_settings_are_put_back() -> None:
    STEPControl_Writer()  # which makes the settings
    before = Interface_Static.CVal_s(UNIT), Interface_Static.IVal_s(MODE)
    with pytest.raises(RuntimeError):
        fail_while_set(1 - before[1])
    assert (Interface_Static.CVal_s(UNIT), Interface_Static.IVal_s(MODE)) == before


@pytest.mark.parametrize("texts", [{"no.such.setting": "1"}, {UNIT: "MM", "no.such": "1"}])
def test_a_setting_that_does_not_exist_is_an_error(texts: dict[str, str]) -> None:
    STEPControl_Writer()
    before = Interface_Static.CVal_s(UNIT)
    with pytest.raises(KeyError), kernel.settings(texts, {}):
        pass
    assert Interface_Static.CVal_s(UNIT) == before


def python(code: str) -> str:
    return subprocess.run(
        [sys.executable, "-c", code],
        env={"PYTHONPATH": ":".join(sys.path)},
        capture_output=True,
        text=True,
        check=True,
    ).stdout.strip()


def test_loading_leaves_the_collector_as_it_was() -> None:
    code = (
        "import gc; {} from parametric_wall.solid.kernel import load; load(); print(gc.isenabled())"
    )
    assert python(code.format("")) == "True"
    assert python(code.format("gc.disable();")) == "False"


LOADED = """
import importlib, sys
for name in {modules!r}:
    importlib.import_module(name)
print([name for name in {heavy!r} if name in sys.modules])
"""


def test_only_the_assembly_needs_cadquery_and_only_when_called() -> None:
    modules = [
        "parametric_wall.solid.assembly",
        "parametric_wall.export.formats",
        "parametric_wall.verify.measure",
        "parametric_wall.verify.measure_step",
        "parametric_wall.verify.measure_stl",
        "parametric_wall.verify.measure_glb",
        "parametric_wall.verify.gap",
        "parametric_wall.verify.overlap",
    ]
    heavy = ["cadquery", "vtkmodules", "trimesh", "scipy"]
    assert python(LOADED.format(modules=modules, heavy=heavy)) == "[]"
