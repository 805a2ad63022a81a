"""A torque callout has five elements; what is not recorded is said, and a computed torque is never one of them."""

from __future__ import annotations

import pytest
from tests.values.sets import SHOP, set_of

from benchleaf.values.callout import Callout, callout_of
from benchleaf.values.observations import NO_INTERIM, Status
from benchleaf.values.origin import Recorded, gaps

_STEEL = 'class: "4.8", into: steel, engaged: 3 mm'


def callout(keys: str, count: int = 4, shop: str = SHOP) -> Callout:
    return callout_of(*set_of(keys, count, shop))


def test_all_five_elements_come_from_the_record() -> None:
    one = callout(f"{_STEEL}, torque: 0.5 ± 0.05 N·m, friction: 0.14, sequence: [1, 3, 2, 4]")
    five = (one.value, one.tolerance, one.unit, one.friction, one.sequence)
    assert five == ("0.5", "± 0.05", "N·m", "µ 0.14", "1 3 2 4")
    assert one.is_complete
    assert one.text == "0.5 ± 0.05 N·m"


def test_what_is_not_recorded_is_none_and_the_callout_is_not_complete() -> None:
    one = callout(f"{_STEEL}, torque: 0.5 N·m")
    assert (one.tolerance, one.friction, one.sequence) == (None, None, None)
    assert not one.is_complete


def test_no_torque_reads_not_recorded_though_a_limit_can_be_computed() -> None:
    one = callout(f"{_STEEL}, friction: 0.14")
    assert (one.value, one.unit, one.text, one.status) == (None, None, "not recorded", Status.NOT_RECORDED)
    assert one.limit is not None and "not a torque to tighten to" in one.limit.label


def test_a_computed_torque_does_not_fill_the_callout() -> None:
    one = callout(f"{_STEEL}, torque: {{value: 0.5 N·m, origin: computed}}")
    assert one.text == "not recorded"


def test_a_boss_of_plastic_has_no_computed_limit_and_says_why() -> None:
    one = callout('class: "4.8", into: plastic, torque: 0.5 N·m')
    assert one.limit is None
    assert "plastic" in " ".join(one.not_computed)


def test_a_disputed_torque_shows_every_side_and_what_to_do_meanwhile() -> None:
    one = callout(f"{_STEEL}, torque: [{{value: 0.4 N·m}}, {{value: 0.6 ± 0.1 N·m}}, {{interim: use the lower}}]")
    assert one.status is Status.DISPUTED
    assert (one.value, one.tolerance) == ("0.4 or 0.6", "not recorded or ± 0.1")
    assert one.text == "0.4 or 0.6 N·m (disputed)"
    assert "disputed: use the lower" in one.warnings
    assert len(one.origins) == len(one.origin_words) == 2


def test_a_dispute_without_interim_rule_still_says_what_to_do() -> None:
    one = callout(f"{_STEEL}, torque: [{{value: 0.4 N·m}}, {{value: 0.6 N·m}}]")
    assert one.interim == NO_INTERIM


def test_the_shops_unit_stands_first_with_the_recorded_one_beside_it() -> None:
    one = callout(f"{_STEEL}, torque: 0.5 ± 0.05 N·m", shop=SHOP + "units: {torque: cN·m}\n")
    assert (one.value, one.tolerance, one.unit) == ("50", "± 5", "cN·m")
    assert one.text == "50 ± 5 cN·m (recorded 0.5 ± 0.05 N·m)"


@pytest.mark.parametrize(
    ("torque", "parts", "text"),
    [
        ("0.5 N·m ± 10 %", ("0.5", "± 10 %"), "0.5 N·m ± 10 %"),
        ("0.5 N·m ± 5 cN·m", ("0.5", "± 5 cN·m"), "0.5 N·m ± 5 cN·m"),
        ("0.4..0.6 N·m", ("0.4 to 0.6", "as a range"), "0.4 to 0.6 N·m"),
        ("below 0.6 N·m", ("below 0.6", None), "below 0.6 N·m"),
    ],
)
def test_every_way_to_write_a_torque_comes_apart_into_value_and_tolerance(
    torque: str, parts: tuple[str, str | None], text: str
) -> None:
    one = callout(f"{_STEEL}, torque: {torque}")
    assert (one.value, one.tolerance) == parts
    assert one.text == text


def test_a_single_screw_has_a_sequence() -> None:
    assert callout(_STEEL, count=1).sequence == "one alone"
    assert callout(f"{_STEEL}, sequence: cross").sequence == "crosswise"


def test_the_condition_of_an_observation_belongs_to_the_friction() -> None:
    one = callout(f"{_STEEL}, friction: 0.1, torque: {{value: 0.5 N·m, condition: with paste}}")
    assert one.friction == "with paste, µ 0.1"


def test_what_speaks_against_a_torque_stands_beside_it() -> None:
    one = callout(f"{_STEEL}, friction: 0.14, torque: 2 N·m")
    assert [judged.code for judged in one.against] == ["torque-over-limit"]
    assert "over the limit" in one.warnings[0]


def test_who_measured_is_published_only_where_the_shop_says_so() -> None:
    keys = f"{_STEEL}, torque: {{value: 0.5 N·m, origin: measured, by: QX}}"
    for shop, published in ((SHOP, False), (SHOP + "publish-names: yes\n", True)):
        one = callout(keys, shop=shop)
        told = " ".join((*one.origin_words, *(o.how for o in one.origins if isinstance(o, Recorded))))
        assert ("QX" in told) is published


def test_every_number_of_a_callout_leads_to_a_line_of_the_record() -> None:
    one = callout(f"{_STEEL}, friction: 0.14, head: cap, torque: 0.5 N·m, strips-at: 0.9 N·m")
    assert one.limit is not None
    assert [gap for origin in (*one.origins, one.limit.origin) for gap in gaps(origin)] == []
    assert isinstance(one.origins[0], Recorded) and one.origins[0].place.file == "m/machine.yaml"
