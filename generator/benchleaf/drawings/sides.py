"""Which box stands left and which right of the board with most cables, so that a diagram spreads to both
sides.
"""

from __future__ import annotations

from collections import deque


def levels_of(boxes: tuple[str, ...], links: list[list[str]]) -> dict[str, int]:
    """How far left or right each box stands of the one with most cables: what hangs together goes to one
    side.

    The picture then spreads to both sides of the main board instead of growing down one.
    """
    near: dict[str, dict[str, None]] = {box: {} for box in boxes}
    for hosts in links:
        for a in hosts:
            for b in hosts:
                if a != b and a in near and b in near:
                    near[a][b] = None
    if not near:
        return {}
    hub = max(near, key=lambda name: len(near[name]))
    distance = {hub: 0}
    queue = deque([hub])
    while queue:
        at = queue.popleft()
        for other in near[at]:
            if other not in distance:
                distance[other] = distance[at] + 1
                queue.append(other)
    sides = {-1: 0, 1: 0}
    levels = {hub: 0}
    for island in _islands(near, hub):
        side = 1 if sides[1] <= sides[-1] else -1
        sides[side] += len(island)
        levels |= {name: side * distance.get(name, 1) for name in island}
    return levels


def _islands(near: dict[str, dict[str, None]], hub: str) -> list[list[str]]:
    """The boxes that still hang together once the hub is taken away, largest group first."""
    seen = {hub}
    found = []
    for start in near:
        if start in seen:
            continue
        seen.add(start)
        island, queue = [], deque([start])
        while queue:
            at = queue.popleft()
            island.append(at)
            for other in near[at]:
                if other not in seen:
                    seen.add(other)
                    queue.append(other)
        found.append(island)
    return sorted(found, key=lambda island: -len(island))
