"""The two streams of the command line, which may be closed, full, or of another alphabet."""

from __future__ import annotations

import io
import os
import sys
from typing import Literal

ESCAPED = {
    code: f"\\u{code:04x}"
    for code in (
        *range(0x0A),
        *range(0x0B, 0x20),
        *range(0x7F, 0xA0),
        *range(0x2028, 0x202F),
        *range(0x2066, 0x206A),
    )
}
"""Characters that would steer the terminal or turn its text round. JSON reads them the same."""


def prepare(*, as_json: bool) -> None:
    """Let the streams take every character; JSON is UTF-8 wherever it goes."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            encoding = "utf-8" if as_json else stream.encoding
            stream.reconfigure(encoding=encoding, errors="backslashreplace")


def put(text: str, name: Literal["stdout", "stderr"] = "stdout") -> None:
    """Print a text; that nobody reads any more changes no result and no exit code.

    Raises:
        OSError: it cannot be written, for instance because the disk is full.
    """
    stream = getattr(sys, name)
    if stream is None:
        return
    try:
        stream.write(text.translate(ESCAPED) + "\n")
        stream.flush()
    except OSError as error:
        # Else the interpreter would try again at its end, and complain.
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())
        if not isinstance(error, BrokenPipeError):
            raise
