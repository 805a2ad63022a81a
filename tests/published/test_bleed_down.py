"""Bleed-down times: the exponential law worked by hand, and what IEC 60204-1 says of 60 V."""

from __future__ import annotations

import pytest

from benchleaf.values.bleed_down import decay_time, default_limit, stored_charge, stored_energy

# C in F, R in Ω, from V, to V → seconds, worst seconds with R + 5 % and C + 20 %, energy in J. Worked by hand.
EXAMPLES = [
    (220e-6, 220e3, 325.0, 60.0, 81.7709, 103.0313, 11.6188),
    (220e-6, 220e3, 325.0, 50.0, 90.5952, 114.15, 11.6188),
    (470e-6, 100e3, 400.0, 50.0, 97.7338, 123.1445, 37.6),
]
# Share of the voltage left after n time constants: e^-n, to the places any textbook prints.
AFTER_N_TAU = {1: 0.3679, 2: 0.1353, 3: 0.0498, 4: 0.0183, 5: 0.00674}


@pytest.mark.parametrize(("farad", "ohm", "start", "end", "seconds", "worst", "joule"), EXAMPLES)
def test_bleed_down_times_are_those_worked_by_hand(
    farad: float, ohm: float, start: float, end: float, seconds: float, worst: float, joule: float
) -> None:
    assert decay_time(ohm, farad, start, end) == pytest.approx(seconds, rel=1e-5)
    assert decay_time(1.05 * ohm, 1.2 * farad, start, end) == pytest.approx(worst, rel=1e-5)
    assert stored_energy(farad, start) == pytest.approx(joule, rel=1e-4)


@pytest.mark.parametrize("n", AFTER_N_TAU)
def test_after_n_time_constants_the_textbook_share_is_left(n: int) -> None:
    assert decay_time(100e3, 470e-6, 100.0, 100.0 * AFTER_N_TAU[n]) == pytest.approx(n * 47.0, rel=2e-3)


def test_the_default_limit_is_that_of_iec_60204_1() -> None:
    """IEC 60204-1 6.2.4: 60 V; 60 µC is exempt, which is 1 µF at that voltage."""
    assert default_limit().nominal == 60.0
    assert default_limit().kind == "DC"
    assert stored_charge(1e-6, 60.0) == pytest.approx(60e-6)
