"""Several things are dead at once: what do they share that nothing still working hangs on, and where to measure next.

One fault at a time. What every dead function hangs on and no working one does is suspected, from where power enters
downward. The next place to measure halves what is left: power there, and the fault lies beyond it; none, and it lies
before.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from benchleaf.frozen import dataclass
from benchleaf.troubles.supply_chain import Chain, Link

POWERED = ("source:", "driver:")
"""Links that only show under power whether they do their part."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Split:
    """Where to measure next: the node ``contact``, against the return of ``source``.

    With power there the fault is in ``beyond``, without it in ``before`` (ids of links, each from where power enters
    downward). ``dead``: everything before it is copper from one supply, so that the dead machine can be measured too; a
    supply or driver shows only under power.
    """

    contact: str
    source: str
    before: tuple[str, ...]
    beyond: tuple[str, ...]
    dead: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class CommonPath:
    """What is suspected, in order; ``split`` ``None`` when one thing or nothing is left. ``untold``: functions of which
    nobody recorded what they hang on: they say nothing here."""

    suspects: tuple[Link, ...]
    split: Split | None
    untold: tuple[str, ...]

    @property
    def fits(self) -> bool:
        return bool(self.suspects)


def common_path(chains: Mapping[str, Chain], dead: Sequence[str], working: Sequence[str]) -> CommonPath:
    """What the dead functions share and none of the working ones hangs on. ``chains``: by item.

    Raises KeyError for an item without a chain, ValueError when nothing is dead or something is dead and works.
    """
    both = sorted(set(dead) & set(working))
    if both:
        raise ValueError(f"{both[0]} cannot be dead and work")
    told = [chains[one] for one in dict.fromkeys(dead) if chains[one].known]
    untold = tuple(one for one in dict.fromkeys((*dead, *working)) if not chains[one].known)
    if not dead:
        raise ValueError("say what is dead")
    if not told:
        return CommonPath(suspects=(), split=None, untold=untold)
    shared = set.intersection(*({link.id for link in chain.links} for chain in told))
    cleared = {link.id for one in working for link in chains[one].links}
    suspects = tuple(link for link in told[0].links if link.id in shared - cleared)
    return CommonPath(suspects=suspects, split=half_split(suspects), untold=untold)


def half_split(suspects: Sequence[Link]) -> Split | None:
    """The contact that halves what is suspected; the earlier one where the halves cannot be equal.

    Only after a link whose far side is a contact can anything be measured.
    """
    places = [at for at in range(1, len(suspects)) if suspects[at - 1].after]
    if not places:
        return None
    middle = len(suspects) / 2
    cut = min(places, key=lambda at: (abs(at - middle), at))
    link = suspects[cut - 1]
    return Split(
        contact=link.after,
        source=link.source,
        before=tuple(one.id for one in suspects[:cut]),
        beyond=tuple(one.id for one in suspects[cut:]),
        dead=all(one.source == link.source and not one.id.startswith(POWERED) for one in suspects[:cut]),
    )
