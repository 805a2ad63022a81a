"""Problems whose best order is known, each with its source."""

from __future__ import annotations

from itertools import combinations

from benchleaf.isolation.problem import (
    Cover,
    Mode,
    Needs,
    Power,
    Problem,
    Remedy,
    Test,
)


def split(minutes: float, **outcomes: str) -> Test:
    """A test with sharp outcomes: ``ok="a b"`` says that causes a and b give ok."""
    return Test(minutes, {cause: {name: 1.0} for name, causes in outcomes.items() for cause in causes.split()})


def every_split(causes: str) -> dict[str, Test]:
    """A test of one minute for every way to part the causes in two."""
    names = sorted(causes)
    tests = {}
    for size in range(1, len(names)):
        for found in combinations(names[1:], size):
            tests["split " + "".join(found)] = Test(1.0, {cause: {"in": 1.0} for cause in found}, "out")
    return tests


# Huffman's code of a 45, b 13, c 12, d 16, e 9, f 5 (Cormen, Leiserson, Rivest, Stein, "Introduction to Algorithms",
# from memory) has 2.24 bits a character; with every split as a test of one minute that is the least.
HUFFMAN = Problem(
    causes={"a": 45, "b": 13, "c": 12, "d": 16, "e": 9, "f": 5}, tests=every_split("abcdef"), mode=Mode.IDENTIFY
)

# Jensen, Kjærulff, Kristiansen, Langseth, Skaanning, Vomlel, Vomlelová, "The SACSO methodology for troubleshooting
# complex systems", AI EDAM 15, 2001 (from memory): 1.45; likelihood over cost first gives 1.50. All six orders below
# were worked out by hand.
DEPENDENT = Problem(
    causes={"C1": 0.2, "C2": 0.25, "C3": 0.4, "C4": 0.15},
    remedies={"A1": Remedy(1, ("C1", "C2")), "A2": Remedy(1, ("C2", "C3")), "A3": Remedy(1, ("C3", "C4"))},
)
DEPENDENT_ORDERS = {
    "A1 A2 A3": 1.7,
    "A1 A3 A2": 1.55,
    "A2 A1 A3": 1.5,
    "A2 A3 A1": 1.55,
    "A3 A1 A2": 1.45,
    "A3 A2 A1": 1.65,
}

# Constructed; the value by all 8! orders. Likelihood over cost is right here.
NO_TESTS = Problem(
    causes={"c0": 25, "c1": 20, "c2": 15, "c3": 12, "c4": 10, "c5": 8, "c6": 6, "c7": 4},
    remedies={
        f"r{i}": Remedy(minutes, (f"c{i}",)) for i, minutes in enumerate((30, 8, 12, 40, 2, 5, 18, 1))
    },
)

# Constructed; verified by a memoised and by an un-memoised recursion independent of this project: 54.19.
MIXED = Problem(
    causes={"fuse": 30, "psu": 22, "cable": 18, "board": 15, "sensor": 10, "switch": 5},
    tests={
        "measure_24V": split(3, absent="fuse psu switch", ok="cable board sensor"),
        "ring_fuse": split(2, open="fuse", ok="psu cable board sensor switch"),
        "ring_cable": split(6, open="cable", ok="fuse psu board sensor switch"),
        "swap_sensor_sim": split(10, cleared="sensor", same="fuse psu cable board switch"),
        "led_code": split(1, off="fuse psu", blink2="cable sensor", on="board switch"),
    },
    remedies={
        f"replace {cause}": Remedy(minutes, (cause,))
        for cause, minutes in {"fuse": 4, "psu": 60, "cable": 12, "board": 200, "sensor": 35, "switch": 9}.items()
    },
)


def _behind(*covers: str) -> Needs:
    return Needs(frozenset(covers), others_closed=False, power=Power.EITHER)


# Constructed on the model of Ottosen and Jensen, "The Cost of Troubleshooting Cost Clusters with Inside Information"
# (arXiv 1203.3502); the value by all 5! orders. Leaving the covers out of account costs 35.65.
CLUSTERS = Problem(
    causes={"a_front": 20, "b_outside": 10, "c_tray": 30, "d_tray": 15, "e_rear": 25},
    remedies={
        "fix a_front": Remedy(4, ("a_front",), _behind("front")),
        "fix b_outside": Remedy(5, ("b_outside",), _behind()),
        "fix c_tray": Remedy(3, ("c_tray",), _behind("tray")),
        "fix d_tray": Remedy(9, ("d_tray",), _behind("tray")),
        "fix e_rear": Remedy(2, ("e_rear",), _behind("rear")),
    },
    covers={"front": Cover(6), "rear": Cover(15), "tray": Cover(10, within="front")},
)

# Constructed after Butterworth, "Some reliability fault-testing models", Operations Research 20, 1972: the last part
# of a series need not be tested, so likelihood over cost (b, a, c: 5.2) is not best (b, c, a: 4.0).
LAST_INFERRED = Problem(
    causes={"a": 0.4, "b": 0.4, "c": 0.2},
    tests={
        f"test {part}": Test(minutes, {part: {"bad": 1.0}}, "good")
        for part, minutes in {"a": 7, "b": 1, "c": 5}.items()
    },
    mode=Mode.IDENTIFY,
)
