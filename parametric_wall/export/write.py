"""Files that are whole or not there: nobody finds half of one."""

from __future__ import annotations

import os
from pathlib import Path
from secrets import token_hex

NOTHING = "nothing to write: no piece has been set out"


def write_atomically(path: Path, data: bytes) -> None:
    """Write a file beside its target, and put it in the target's place once it is whole.

    Whatever stops it, an interrupt included, leaves the target as it was.

    Args:
        path: the target; its folder exists.
        data: everything the file is to hold.

    Raises:
        OSError: the file cannot be written or the target cannot be replaced.
    """
    beside = path.with_name(f".{path.name}.{token_hex(4)}.part")
    try:
        with beside.open("xb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        beside.replace(path)
    except BaseException:
        beside.unlink(missing_ok=True)
        raise
