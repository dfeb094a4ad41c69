"""What went wrong, told without a traceback."""

from __future__ import annotations

import io
import json
import signal
from dataclasses import asdict
from types import FrameType

import typer

from parametric_wall.errors import Fault, JobError, WallError
from parametric_wall.pack.terminal import put


def watch_interrupts() -> list[int]:
    """A list that Ctrl-C adds to before it is raised: a library that is loading may lose it."""
    pressed: list[int] = []

    def note(number: int, frame: FrameType | None) -> None:
        pressed.append(number)
        signal.default_int_handler(number, frame)

    if signal.getsignal(signal.SIGINT) is signal.default_int_handler:
        signal.signal(signal.SIGINT, note)
    return pressed


def tell(error: Exception, *, as_json: bool) -> None:
    """Say what was raised, on the screen and where asked for as JSON."""
    faults = error.faults if isinstance(error, JobError) else (fault_of(error),)
    if as_json:
        put(json.dumps({"faults": [asdict(f) for f in faults]}))
    if isinstance(error, JobError):
        many = len(faults)
        head = f"{many} fault{'s' if many > 1 else ''}:"
        put("\n".join([head, *(f"  {f}" for f in faults)]), "stderr")
    elif hasattr(error, "show"):  # It knows the usage of its command.
        usage = io.StringIO()
        error.show(usage)
        put(usage.getvalue().rstrip(), "stderr")
    else:
        put(str(faults[0]).removeprefix(": "), "stderr")


def fault_of(error: Exception) -> Fault:
    """What was raised, as a fault; the path is that of a file, where there is one."""
    if isinstance(error, typer.TyperException):
        return Fault("", "", error.format_message())
    if isinstance(error, OSError):
        return Fault(str(error.filename or ""), "", error.strerror or str(error))
    if isinstance(error, ImportError):
        hint = (
            "the CAD kernel needs libGL.so.1 and libX11.so.6 from the system; "
            "Debian has them in libgl1 and libx11-6"
        )
        return Fault("", "", f"a library is missing: {error}", hint)
    if isinstance(error, WallError):
        return Fault("", "", str(error))
    problem = f"the program failed: {type(error).__name__}: {error}"
    return Fault("", "", problem, "the fault is the program's own, not the job's")
