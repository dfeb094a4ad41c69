"""Mesh files measured in a second process, which loads its reader while this one works.

The reader of glTF takes half a second to load, and so does the kernel. Neither needs
the other, and the second process sees no more of the model than the files hold.
"""

from __future__ import annotations

import os
import pickle
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from types import TracebackType
from typing import IO, Any, Self

from parametric_wall.errors import OutputError
from parametric_wall.solid import kernel
from parametric_wall.verify.measure_glb import GlbMeasured, measure_glb
from parametric_wall.verify.measure_stl import StlMeasured, measure_stl

PACKAGES = Path(__file__).parents[2]
"""The folder that this package was loaded from: the second process loads it from there."""


@dataclass(frozen=True, slots=True)
class MeshMeasures:
    """What was read back from mesh files; None for a file that was not there to read."""

    glb: GlbMeasured | None
    stl: StlMeasured | None


def measure_meshes(paths: Mapping[str, Path]) -> MeshMeasures:
    """Read mesh files back, in this process.

    Args:
        paths: files by suffix; of them, those that are meshes.

    Raises:
        OutputError: a file cannot be read.
    """
    glb, stl = paths.get(".glb"), paths.get(".stl")
    return MeshMeasures(
        measure_glb(glb) if glb else None,
        measure_stl(stl) if stl else None,
    )


class Beside:
    """The second process, from its start, as early as can be, to its one answer.

    ::

        with Beside() as second:
            ...  # build, and write the files
            second.ask(paths)
            ...  # measure what needs the kernel
            meshes = second.answer()
    """

    def __init__(self) -> None:
        self._process: subprocess.Popen[bytes] | None = None
        self._paths: dict[str, Path] = {}

    def __enter__(self) -> Self:
        """Start it. Where none can be started, `answer` measures in this process."""
        folders = [str(PACKAGES), *filter(None, [os.environ.get("PYTHONPATH")])]
        try:
            self._process = subprocess.Popen(
                [sys.executable, "-c", "from parametric_wall.verify import beside; beside.serve()"],
                stdin=subprocess.PIPE,
                stdout=subprocess.PIPE,
                stderr=subprocess.DEVNULL,
                env={**os.environ, "PYTHONPATH": os.pathsep.join(folders)},
            )
        except OSError:
            self._process = None
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """End it, whatever it is doing."""
        if self._process is not None:
            self._process.kill()
            self._process.communicate()

    def ask(self, paths: Mapping[str, Path]) -> None:
        """Let it begin: the files are whole.

        Args:
            paths: files by suffix.
        """
        self._paths = dict(paths)
        if self._process is not None and self._process.stdin is not None:
            try:
                pickle.dump(self._paths, self._process.stdin)
                self._process.stdin.flush()
            except OSError:  # it has ended: `answer` will find out
                pass

    def answer(self) -> MeshMeasures:
        """Wait for what it has measured.

        Raises:
            OutputError: a file cannot be read.
        """
        if self._process is not None and self._process.stdout is not None:
            try:
                answer = pickle.load(self._process.stdout)  # noqa: S301 (of our own process)
            except (EOFError, pickle.UnpicklingError):
                return measure_meshes(self._paths)
            if isinstance(answer, OutputError):
                raise answer
            if isinstance(answer, MeshMeasures):
                return answer
        return measure_meshes(self._paths)


def serve() -> None:
    """Be the second process: load the reader, then measure what is asked, once."""
    kernel.load("trimesh")
    reply(sys.stdin.buffer, sys.stdout.buffer)


def reply(asked: IO[bytes], answered: IO[bytes]) -> None:
    """Read one question, and write its answer.

    Args:
        asked: where a pickled mapping of paths by suffix comes from; nothing, if the
            asking process has ended.
        answered: where the pickled measures go, or the error.
    """
    try:
        paths = pickle.load(asked)  # noqa: S301 (from our own process)
    except EOFError:
        return
    answer: Any
    try:
        answer = measure_meshes(paths)
    except OutputError as error:
        answer = error
    pickle.dump(answer, answered)
    answered.flush()
