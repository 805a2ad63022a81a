"""QR codes as SVG: the only module that knows segno."""

from __future__ import annotations

import io
from functools import lru_cache

import segno

LEVEL = "h"
"""Error correction of ISO/IEC 18004 level H: about 30 % of it may be dirty or torn."""


@lru_cache(maxsize=1024)
def qr_svg(text: str) -> bytes:
    """A QR code of level H, without a date or a tool's name in it, with the quiet zone of four modules."""
    out = io.BytesIO()
    code = segno.make(text, error=LEVEL, boost_error=False, micro=False)
    code.save(out, kind="svg", border=4, xmldecl=True, svgns=True, omitsize=True, nl=False)
    return out.getvalue()


@lru_cache(maxsize=1024)
def qr_modules(text: str) -> int:
    """Squares along one side of the code, the quiet zone included."""
    code = segno.make(text, error=LEVEL, boost_error=False, micro=False)
    return int(code.symbol_size(border=4)[0])
