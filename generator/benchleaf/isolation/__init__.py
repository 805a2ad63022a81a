"""Fault isolation: from causes and tests to the order that costs the fewest minutes."""
