"""Recorded values keep everything an author wrote of them, with the place of each part."""

from __future__ import annotations

from tests.values.sets import SHOP, derived_of, set_of

from benchleaf.values.observations import Status
from benchleaf.values.origin import Recorded
from benchleaf.values.recorded import counting, highest, lowest, observations_of, origin_in, same_within, standing
from benchleaf.values.torque_of_set import fastener_of
from benchleaf.values.written import written_in

_TWO = (
    "torque: [{value: 0.4 N·m, origin: measured, by: QX, serial: s1, date: 2026-01-02, method: click driver, "
    "instrument: driver 3}, {value: 0.6 N·m, origin: service note, source: note 2, condition: dry}, {interim: ask}]"
)


def test_every_part_of_an_entry_is_kept_in_the_order_written() -> None:
    one, _ = set_of(_TWO)
    first, second, third = observations_of(one.torque)
    assert (first.origin, first.by, first.serial, first.date) == ("measured", "QX", "s1", "2026-01-02")
    assert (first.method, first.instrument) == ("click driver", "driver 3")
    assert (second.source, second.condition) == ("note 2", "dry")
    assert third.quantity is None and third.interim == "ask"


def test_each_entry_stands_at_its_own_value() -> None:
    one, _ = set_of(_TWO)
    places = [seen.place for seen in observations_of(one.torque)]
    assert len({place.column for place in places if place is not None}) == 3
    assert {place.file for place in places if place is not None} == {"m/machine.yaml"}


def test_a_value_not_recorded_has_no_entries_and_says_so() -> None:
    assert observations_of(None) == ()
    assert standing(None).status is Status.NOT_RECORDED


def test_the_shops_band_is_a_share() -> None:
    _, shop = set_of("head: cap", shop=SHOP + "same-within: 5 %\n")
    assert same_within(shop) == 0.05
    assert same_within(set_of("head: cap")[1]) == 0.1


def test_a_decision_is_what_counts_once_it_settles_the_matter() -> None:
    one, _ = set_of("torque: [{value: 0.4 N·m}, {value: 0.6 N·m}, {adjudicated: 0.5 N·m, reason: tried}]")
    assert [str(seen.quantity) for seen in counting(one.torque)] == ["0.5 N·m"]


def test_of_a_dispute_every_side_counts_and_the_careful_one_is_found() -> None:
    one, _ = set_of("strips-at: [{value: 0.9 ± 0.2 N·m}, {value: 0.8 N·m}], must-hold: [{value: 40 N}, {value: 90 N}]")
    assert str(getattr(lowest(one.strips_at), "quantity", "")) == "0.9 ± 0.2 N·m"
    assert str(getattr(highest(one.must_hold), "quantity", "")) == "90 N"


def test_who_saw_it_is_in_the_origin_only_where_the_shop_publishes_names() -> None:
    for names in ("no", "yes"):
        one, shop = set_of(_TWO, shop=f"{SHOP}publish-names: {names}\n")
        origin = origin_in(observations_of(one.torque)[0], shop)
        assert isinstance(origin, Recorded)
        assert ("QX" in origin.how) is (names == "yes")


def test_a_set_says_where_each_fact_of_its_fastener_stands() -> None:
    one, _ = set_of('class: "8.8"')
    origins = fastener_of(one).origins
    thread, strength = origins["thread"], origins["class"]
    assert isinstance(thread, Recorded) and isinstance(strength, Recorded)
    assert thread.place.line == 5  # on the fastener
    assert strength.place.line == 7  # on the set, which overrides it
    assert "into" not in origins


def test_every_quantity_of_a_record_is_found_with_words_for_it() -> None:
    machine = (
        "fasteners:\n  screw: {thread: M3, torque: 0.5 N·m}\n"
        "items:\n"
        "  F1: {name: Fuse, held-by: {screw: 2}, mass: 3 g, rests: 20 min, values: {cold: 0.1 ohm}}\n"
        "  PS1: {name: Supply, held-by: {own: {fastener: screw, count: 1, torque: 1 N·m}}}\n"
        "energy:\n  mains: {kind: electrical, stored: [{in: PS1, capacitance: 1 uF}]}\n"
    )
    record = derived_of(machine).library.machines["m"].record
    found = {one.words: [str(seen.quantity) for seen in one.observations] for one in written_in(record)}
    assert found["torque of screw"] == ["0.5 N·m"]
    assert found["cold of F1"] == ["0.1 Ω"]
    assert found["rests of F1"] == ["20 min"]
    assert found["torque of PS1.own"] == ["1 N·m"]
    assert found["capacitance of what PS1 stores"] == ["1 µF"]


def test_a_quantity_that_differs_on_some_machines_is_found_with_them() -> None:
    machine = (
        "variants: {mk1: {is: one}, mk2: {is: two}}\n"
        "fasteners:\n  screw: {torque: 0.5 N·m, where: [{applies: [mk2], torque: 0.7 N·m}]}\n"
        "items:\n  lid: {name: Lid, held-by: {screw: 2}}\n"
    )
    record = derived_of(machine).library.machines["m"].record
    both = [one for one in written_in(record) if one.words == "torque of screw"]
    found = {str(one.observations[0].quantity): one.applies is None for one in both}
    assert found == {"0.5 N·m": True, "0.7 N·m": False}
