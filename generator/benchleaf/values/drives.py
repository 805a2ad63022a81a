"""Which bit usually drives a metric screw: to suggest a tool, never to overrule the drive a record names.

Sizes by head: ISO 4762 and 14579 (cap), ISO 7380 (button), ISO 10642, 7046 and 14581 (countersunk), ISO 7045 and 14583
(pan), ISO 4014 (hex). From memory, all of them.
"""

from __future__ import annotations

from benchleaf.values.threads import HEX_ACROSS_FLATS

_SIZES = ("M1.6", "M2", "M2.5", "M3", "M3.5", "M4", "M5", "M6", "M8", "M10", "M12")


def _row(prefix: str, words: str) -> dict[str, str]:
    sizes = zip(_SIZES, words.split(), strict=True)
    return {thread: prefix + size for thread, size in sizes if size != "-"}


_HEX_CAP = _row("hex ", "1.5 1.5 2 2.5 - 3 4 5 6 8 10")
_HEX_LOW = _row("hex ", "- - - 2 - 2.5 3 4 5 6 8")
_CROSS = _row("PH", "0 0 1 1 2 2 2 3 4 4 -")
_LOBE_CAP = _row("TX", "- 6 8 10 - 20 25 30 45 50 55")
_LOBE_FLAT = _row("TX", "- 6 8 10 15 20 25 30 40 50 -")
_SPANNER = {thread: f"spanner {width:g}" for thread, width in HEX_ACROSS_FLATS.items()}

_BY_HEAD = {
    "cap": (_HEX_CAP, _LOBE_CAP),
    "button": (_HEX_LOW, _LOBE_FLAT),
    "countersunk": (_HEX_LOW, _CROSS, _LOBE_FLAT),
    "pan": (_CROSS, _LOBE_FLAT),
    "hex": (_SPANNER,),
}


def usual_bits(thread: str, head: str) -> tuple[str, ...]:
    """The bits met on such a screw, as a record writes them (``hex 2.5``, ``PH1``, ``TX10``); empty when not known."""
    return tuple(row[thread] for row in _BY_HEAD.get(head, ()) if thread in row)
