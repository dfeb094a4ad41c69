"""Digests by which a file or a record is known to be as it was written."""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from typing import Any


def sha256(data: bytes) -> str:
    """SHA-256 (FIPS 180-4) of a file's bytes, in hexadecimal."""
    return hashlib.sha256(data).hexdigest()


def digest_of(record: Mapping[str, Any]) -> str:
    """SHA-256 of a record without its own digest."""
    rest = {k: v for k, v in record.items() if k != "digest"}
    return sha256(json.dumps(rest, sort_keys=True).encode())
