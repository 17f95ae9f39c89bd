"""One spelling of any input, so that the same inputs always give the same hash."""

from __future__ import annotations

import hashlib
import json
import math
from typing import Any


def canonical_json(value: Any) -> str:
    """Return JSON with sorted keys, no spaces and shortest round-trip floats; NaN and infinities are refused."""
    return json.dumps(_plain(value), sort_keys=True, separators=(",", ":"), allow_nan=False, ensure_ascii=True)


def fingerprint(value: Any) -> str:
    """Return the SHA-256 of the canonical JSON of a value, as 64 hexadecimal digits."""
    return hashlib.sha256(canonical_json(value).encode("ascii")).hexdigest()


def file_fingerprint(content: bytes) -> str:
    """Return the SHA-256 of a file's content, as 64 hexadecimal digits."""
    return hashlib.sha256(content).hexdigest()


def _plain(value: Any) -> Any:
    """Containers and scalars as JSON knows them; -0.0 becomes 0.0."""
    if isinstance(value, dict):
        return {str(key): _plain(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_plain(item) for item in value]
    if hasattr(value, "tolist"):
        return _plain(value.tolist())
    if isinstance(value, float):
        if not math.isfinite(value):
            raise ValueError(f"{value} has no canonical form")
        return value + 0.0
    if value is None or isinstance(value, str | int | bool):
        return value
    raise TypeError(f"{type(value).__name__} has no canonical form")
