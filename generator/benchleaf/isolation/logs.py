"""Numbers that are the same on every machine: logarithms to base 2, and values by which actions are ranked.

The mathematical library of a system may round a logarithm in its own way, and ``sum`` makes up for rounding from Python
3.12 on. An order of tests must not depend on either: logarithms are made of plain arithmetic, ranks leave out the last
digits.
"""

from __future__ import annotations

from math import floor, frexp, isfinite

GRAIN = 1024  # steps in which shares are looked up
_TWICE_PER_LN2 = 2.8853900817779268  # 2 / ln 2, rounded to the nearest double


def log2(number: float) -> float:
    """The logarithm to base 2 of a number above zero, within about 1e-15 of its size."""
    mantissa, exponent = frexp(number)
    if mantissa < 0.7071067811865476:
        mantissa, exponent = mantissa * 2, exponent - 1
    x = (mantissa - 1) / (mantissa + 1)  # at most 0.1716 either way: eleven terms of the row are enough
    s = x * x
    row = 1 / 13 + s * (1 / 15 + s * (1 / 17 + s * (1 / 19 + s / 21)))
    row = 1 + s * (1 / 3 + s * (1 / 5 + s * (1 / 7 + s * (1 / 9 + s * (1 / 11 + s * row)))))
    return exponent + x * row * _TWICE_PER_LN2


BITS = (float("inf"), *(-log2(step / GRAIN) for step in range(1, GRAIN + 1)))
"""For each step the bits of a share of ``step / GRAIN``: what an answer tells that comes so often."""

_FINE = 2.0**30


def alike(number: float) -> float:
    """The number to the nearest 2⁻³⁰: of two actions that cost the same, the same one is chosen everywhere."""
    return floor(number * _FINE + 0.5) / _FINE if isfinite(number) else number
