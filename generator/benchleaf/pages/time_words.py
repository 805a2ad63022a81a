"""Times as people say them: ``25 min``, ``1 h 10 min``, rounded up and never down."""

from __future__ import annotations

from math import ceil, inf


def time_words(seconds: float) -> str:
    """A time in words: below a minute in steps of 5 s, above in whole minutes, always rounded up."""
    if seconds <= 0:
        return "none"
    if seconds == inf:
        return "no end of time"
    if seconds < 60:
        short = ceil(seconds / 5 - 1e-9) * 5
        return f"{short} s" if short < 60 else "1 min"
    minutes = ceil(seconds / 60 - 1e-9)
    hours, rest = divmod(minutes, 60)
    if not hours:
        return f"{minutes} min"
    return f"{hours} h {rest} min" if rest else f"{hours} h"
