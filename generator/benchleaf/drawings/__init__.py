"""Drawings as pure functions: plain values in, SVG or DOT text out, the same bytes every time."""
