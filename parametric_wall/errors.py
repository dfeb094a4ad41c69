"""What can go wrong, as data.

WallError
 ├─ JobError      the job file is wrong: every fault at once
 └─ OutputError   the results cannot be written or read
"""

from __future__ import annotations

from dataclasses import dataclass

INTERRUPTED = 130
"""The exit code after Ctrl-C."""
STOPPED_TEXT = "stopped; no result is half-written"


def is_interrupt(error: BaseException) -> bool:
    """Whether this is Ctrl-C, or came of it: a loading library wraps it in its own error."""
    seen: set[int] = set()
    here: BaseException | None = error
    while here is not None and id(here) not in seen:
        if isinstance(here, KeyboardInterrupt):
            return True
        seen.add(id(here))
        here = here.__cause__ or here.__context__
    return False


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing wrong in a job file.

    Attributes:
        path: dotted path of the key, for instance ``walls.0.height.courses``.
        value: what stands there, as text; empty where nothing does.
        problem: what is wrong, with the range that is allowed.
        hint: what to do about it.
    """

    path: str
    value: str
    problem: str
    hint: str = ""

    def __str__(self) -> str:
        shown = f" = {self.value}" if self.value else ""
        hint = f" ({self.hint})" if self.hint else ""
        return f"{self.path}{shown}: {self.problem}{hint}"


class WallError(Exception):
    """The root of everything this package raises on purpose."""


class JobError(WallError):
    """A job file that cannot be used, with every fault in it."""

    def __init__(self, faults: tuple[Fault, ...] | list[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("\n".join(str(f) for f in self.faults))


class OutputError(WallError):
    """A result that cannot be written, or a written one that cannot be read."""
