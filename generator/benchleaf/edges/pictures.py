"""Pictures read for paper: from the content folder and nowhere else, without what the camera noted beside them."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from benchleaf.photo_metadata import without_metadata
from benchleaf.source import AssetInfo

PICTURE_LIMIT = 40_000_000
"""Bytes of the largest picture that is put on paper."""


def picture_bytes(assets: Mapping[str, AssetInfo], content: Path, path: str) -> bytes | None:
    """A picture below the content folder; ``None`` for one that is too large, gone, or led out of it by a link."""
    asset = assets.get(path)
    if asset is None or asset.size > PICTURE_LIMIT:
        return None
    root, file = content.resolve(), (content / path).resolve()
    if not file.is_relative_to(root) or not file.is_file():
        return None
    return without_metadata(file.read_bytes())
