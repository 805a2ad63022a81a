"""Access on pages: every item's way and derived procedures, the disassembly map, torque cards, stored charge."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from tests.access.machines import derived_of
from tests.pages.library import demo, demo_html, demo_pages, drawn, tree, words

from benchleaf.access.comparison import comparisons
from benchleaf.access.derived import DerivedProcedure, by_configuration
from benchleaf.access.opened_by_the_way import opened_by_the_way
from benchleaf.access.paths import access_path
from benchleaf.access.ways import all_ways
from benchleaf.access.words import duration
from benchleaf.pages.addresses import MachineAddresses
from benchleaf.pages.book import Book, MachineBook
from benchleaf.pages.item_access import GOALS, access_sections, derived_path, goals_of
from benchleaf.pages.kinds import disassembly, energy, torque
from benchleaf.pages.kinds.derived import page as derived_page
from benchleaf.pages.kinds.item import page as item_page
from benchleaf.pages.trouble import replacements
from benchleaf.values.torque_of_set import is_driven


def books() -> Iterator[MachineBook]:
    yield from Book(demo().derived).machines()


def removable(mbook: MachineBook) -> list[str]:
    return [str(name) for name in mbook.record.items if name != "frame"]


def mini(machine: str, **more: str) -> MachineBook:
    """A library of one machine ``m``."""
    return Book(derived_of(machine, **more)).machine("m")


def hrefs(path: str, within: str | None = None) -> set[str]:
    """Where links of a page lead, as paths of the site without fragments."""
    import posixpath

    top = tree(path)
    if within is not None:
        top = next(one for one in top.iter() if one.get("id") == within)
    here = posixpath.dirname(path)
    found = (one.get("href", "").partition("#")[0] for one in top.iter("a"))
    return {posixpath.normpath(posixpath.join(here, one)) for one in found if one}


BOXES = """
    fasteners:
      screw: {kind: screw, drive: PH1, head: pan, thread: M3, takes: 10 s}
    items:
      frame: {name: Frame, box: [0, 0, 0, 100, 100, 100]}
      cover: {name: Cover, held-by: {screw: 2}, behind: none, comes-off: pull up, takes: 10 s}
      M1: {name: Motor, held-by: {screw: 4}, behind: cover, comes-off: pull up, takes: 10 s}
    energy: {}
"""
WRITTEN = """
    record: teardown
    id: renew-motor
    machine: m
    title: Renew the motor
    goal: replace M1
    verified: {VERIFIED}
    steps:
      - title: Open
        do:
          - remove: cover
          - lift off: cover
"""


def test_every_removable_item_has_its_way_and_its_derived_procedures() -> None:
    for mbook in books():
        for name in removable(mbook):
            linked = hrefs(mbook.at.item(name), within="access")
            for goal in GOALS:
                path = derived_path(mbook, name, goal)
                assert path in demo_pages() and path in linked, (name, goal)
            text = demo_html()[derived_path(mbook, name, "remove")].decode()
            assert ("Only to take it off:" in text) == ("remove" not in goals_of(mbook, name))


def test_a_derived_procedure_says_first_that_nobody_verified_it() -> None:
    for path, page in demo_pages().items():
        if page.kind == "derived":
            text = demo_html()[path].decode()
            assert text.index("derived, unverified") < text.index("<h2>") < text.index('class="foot"')
            assert "Nobody has done it in this order" in text


def test_a_derived_page_has_every_step_there_and_back_on_every_kind_of_machine() -> None:
    for mbook in books():
        for name in removable(mbook):
            parts = demo_pages()[mbook.at.derived(name, "replace")].context["parts"]
            groups = by_configuration(mbook.book.derived, mbook.machine, name, "replace")
            assert len(parts) == len(groups)
            for part, (_, one) in zip(parts, groups, strict=True):
                assert isinstance(one, DerivedProcedure)
                assert [step.title for step in part.steps] == [str(step.title) for step in one.record.steps]
                for _, back in part.back.groups:
                    assert {step.title for step in back} >= {step.title for step in back if step.came_from is None}
                assert sum(len(back) for _, back in part.back.groups) >= len(one.back.steps)
                assert all(ending.is_closed for ending in part.back.endings)


def test_each_step_carries_its_own_messages_and_not_those_of_another() -> None:
    """Derived steps have no line of their own in a record: what tells them apart is their number."""
    mbook = next(one for one in books() if one.machine.id == "fp420")
    steps = demo_pages()[mbook.at.derived("M2", "replace")].context["parts"][0].steps
    by_title = {step.title: [one.hazard for one in step.safety] for step in steps}
    assert by_title["Isolate the mains"] == []
    assert any("Mains voltage" in hazard for hazard in by_title["Take the left cover off"])


def test_a_derived_procedure_that_breaks_a_rule_is_not_shown_as_sound() -> None:
    page = next(page for page in demo_pages().values() if page.kind == "derived")
    assert "Do not work from it" not in drawn(page)
    parts = tuple(replace(one, broken=True) for one in page.context["parts"])
    assert "Do not work from it" in drawn(replace(page, context={**page.context, "parts": parts}))


def test_an_item_that_cannot_be_got_at_says_why() -> None:
    stuck = BOXES.replace("behind: cover", "behind: M1")
    mbook = mini(stuck)
    for page in (derived_page(mbook, "M1", "replace"), item_page(mbook, "M1")):
        assert "There is no way" in drawn(page, mbook.book)


def test_what_somebody_wrote_goes_before_what_is_derived() -> None:
    mbook = mini(BOXES, renew=WRITTEN.replace("{VERIFIED}", "unverified"))
    text = drawn(derived_page(mbook, "M1", "replace"), mbook.book)
    assert text.index("Go by what was written") < text.index("There and back")
    assert [line.path for line in replacements(mbook, "M1")] == [mbook.at.procedure("renew-motor")]
    assert "Go by what was written" not in drawn(derived_page(mbook, "M1", "reach"), mbook.book)


def test_a_withdrawn_procedure_cures_nothing_and_the_derived_one_stands_in() -> None:
    mbook = mini(BOXES, renew=WRITTEN.replace("{VERIFIED}", "withdrawn"))
    (line,) = replacements(mbook, "M1")
    assert (line.path, line.note) == (mbook.at.derived("M1", "replace"), "derived, unverified")
    assert "Go by what was written" not in drawn(derived_page(mbook, "M1", "replace"), mbook.book)


def test_a_remedy_that_names_an_item_leads_to_a_procedure() -> None:
    seen = 0
    for mbook in books():
        for code in mbook.machine.codes.values():
            linked = hrefs(mbook.at.code(code.code))
            for cause in code.causes.values():
                if cause.remedy is None or cause.remedy.replace is None:
                    continue
                lines = tuple(replacements(mbook.narrowed(cause.applies), str(cause.remedy.replace.item)))
                assert lines and {line.path for line in lines} <= linked
                seen += sum(line.note == "derived, unverified" for line in lines)
    assert seen


def test_a_longer_written_way_shows_both_times_and_what_its_goal_does_not_need() -> None:
    longer = 0
    for mbook in books():
        for name in removable(mbook):
            for ways in all_ways(mbook.book.derived, mbook.machine).values():
                for one in comparisons(mbook.book.derived, mbook.machine, ways, name):
                    text = words(tree(mbook.at.item(name)))
                    said = (one.title, duration(one.written_time), duration(one.least_time), *one.superfluous)
                    assert all(" ".join(part.split()) in text for part in said), (name, said)
                    longer += one.is_longer
    assert longer


def test_wear_items_laid_open_on_the_way_are_listed() -> None:
    found = 0
    for mbook in books():
        for name in removable(mbook):
            for ways in all_ways(mbook.book.derived, mbook.machine).values():
                if name not in ways.built.items:
                    continue
                for one in opened_by_the_way(ways, access_path(ways, name)):
                    assert mbook.at.item(one.what.partition(".")[0]) in hrefs(mbook.at.item(name))
                    found += 1
    assert found
    sections = {one.title: one for one in access_sections(mini(BOXES), "M1")}
    assert "No item or fastener with a recorded wear life" in str(sections["While you are in there"].blocks)


def test_the_map_holds_every_item_drawn_and_as_a_table() -> None:
    for mbook in books():
        path = mbook.at.list("disassembly")
        page = tree(path)
        assert {mbook.at.item(name) for name in removable(mbook)} <= hrefs(path)
        boxes = {one.get("data-item") for one in page.iter() if one.get("data-item")}
        assert boxes == set(removable(mbook))


def test_a_map_that_cannot_be_drawn_says_so_and_keeps_its_table() -> None:
    mbook = mini(BOXES)
    text = drawn(disassembly.page(mbook), mbook.book)
    assert "was not drawn" in text and "Motor" in text and "30 s" in text


def test_every_screw_and_nut_stands_on_the_torque_card() -> None:
    for mbook in books():
        path = mbook.at.list("torque")
        table = next(one for one in tree(path).iter("table") if one.get("class") == "table-torque-card")
        rows = [words(row) for row in table.iter("tr")][1:]
        driven = {one.name for built in mbook.builts for one in built.sets.values() if is_driven(one)}
        assert len(rows) >= len(driven)
        for built in mbook.builts:
            for one in built.sets.values():
                if is_driven(one):
                    mine = [
                        row for row in rows if mbook.item_words(one.item) in row and row.startswith(f"{one.count} ×")
                    ]
                    assert mine, one.name
                    assert one.torque is not None or any("not recorded" in row for row in mine), one.name


def test_a_computed_limit_never_stands_as_the_torque() -> None:
    machine = BOXES.replace("thread: M3,", "thread: M3, class: 8.8, friction: 0.12, into: steel,")
    mbook = mini(machine)
    row = torque.machine_page(mbook).context["sections"][0].blocks[0].rows[0]
    cell = row.cells[3]
    assert cell[0] is None and cell[1].words == "Computed limit, no torque to tighten to:" and "N·m" in cell[2].text


def test_a_procedure_leads_to_its_own_torque_card() -> None:
    for mbook in books():
        for name in mbook.machine.procedures:
            card = mbook.at.torque(str(name))
            assert card in hrefs(mbook.at.procedure(str(name))) and card in demo_pages()


def test_a_tightening_pattern_is_drawn_where_places_and_order_are_recorded() -> None:
    drawings = 0
    for mbook in books():
        for one in {one.name: one for built in mbook.builts for one in built.sets.values()}.values():
            is_known = one.at is not None and one.sequence is not None
            text = demo_html()[mbook.at.item(one.item)].decode()
            if is_known:
                assert f"Tightening pattern: {one.count} of" in text
                drawings += 1
    assert drawings


def test_no_waiting_time_stands_without_the_measurement() -> None:
    waits = 0
    for mbook in books():
        for element in tree(mbook.at.list("energy")).iter("data"):
            text = words(element)
            if "wait" in text.lower():
                assert "then measure at" in text
                waits += 1
    assert waits


def test_charge_that_nobody_looked_for_counts_as_there() -> None:
    unknown = "energy:\n      mains: {kind: electrical, isolate: [unplug M1]}\n"
    mbook = mini(BOXES.replace("energy: {}", unknown))
    assert "counts as charged; discharge and measure" in drawn(energy.page(mbook), mbook.book)


def test_a_derived_page_never_lies_on_another() -> None:
    addresses = [mbook.at for mbook in books()]
    assert all(isinstance(one, MachineAddresses) for one in addresses)
    paths = [mbook.at.derived(name, goal) for mbook in books() for name in removable(mbook) for goal in GOALS]
    assert len(paths) == len(set(paths))
