"""Preliminary requirements rolled up from the steps: what an author wrote once, and what nobody wrote said aloud."""

from __future__ import annotations

from tests.pages.library import book, demo, demo_pages, tree
from tests.pages.library import words as all_words

from benchleaf.pages.book import Book
from benchleaf.pages.requirements import preliminary, safety_summary
from benchleaf.pages.shown import Need

MACHINE = """record: machine
id: m1
name: Machine
fasteners:
  screw: {thread: M3, length: 6 mm, drive: PH1, torque: 0.5 N·m, renew: always}
items:
  cover: {name: Cover, part-number: C-1, held-by: {screw: 4}, behind: [], comes-off: [lift up], mass: 20 kg}
  seal: {name: Seal, part-number: S-1, held-by: none, behind: [cover], renew: always}
"""


def needs(machine: str, procedure: str) -> dict[str, Need]:
    mbook = Book(demo().derived).machine(machine)
    return {one.label: one for one in preliminary(mbook, mbook.machine.procedures[procedure])}


def of(steps: str, head: str = "") -> dict[str, Need]:
    text = f"record: teardown\nid: p\nmachine: m1\ntitle: Take it\n{head}steps:\n{steps}"
    made = book({"m1/machine.yaml": MACHINE, "m1/teardown/p.yaml": text})
    mbook = made.machine("m1")
    return {one.label: one for one in preliminary(mbook, mbook.machine.procedures["p"])}


def words(need: Need) -> list[str]:
    assert need.lines is not None
    return [line.words for line in need.lines]


def test_tools_go_down_to_the_bit_and_say_for_which_machine() -> None:
    tools = needs("fp420", "draw-tray")["Support equipment"]
    assert "Cross-slot driver PH1" in words(tools)
    by_words = {line.words: line for line in tools.lines or ()}
    assert by_words["Hexagon driver 2.5"].applies.words == "machines with roll"  # type: ignore[union-attr]
    assert by_words["Cross-slot driver PH2"].applies is None
    assert by_words["Cross-slot driver PH1"].note == "rear screw M3 × 6; tray screw M3 × 6"


def test_supplies_carry_data_sheet_and_disposal_or_say_they_are_missing() -> None:
    lines = needs("fp420", "replace-print-head")["Supplies"].lines
    notes = {line.words: line.note for line in lines or ()}
    assert (
        notes["Film ink, to refill the line"]
        == "data sheet: Folder 3 sheet 10; disposal: Ink waste bin; never down the sink"
    )
    assert "data sheet: not recorded" in str(notes["Lint-free cloth, 2 sheets"])


def test_spares_name_what_is_renewed_what_must_be_and_what_is_cut() -> None:
    assert words(needs("fp420", "replace-print-head")["Spares"]) == [
        "1 × Damper seal, FP-4111",
        "1 × H1 Print head, FP-4100",
    ]
    assert words(needs("fp420", "draw-tray")["Spares"]) == [
        "1 × tie in place of: Tie on the supply cable, part number not recorded"
    ]
    made = of("  - title: Take the cover off\n    do: [remove: cover.screw, lift off: cover]\n")
    assert words(made["Spares"]) == ["4 × screws M3 × 6, PH1, on Cover, part number not recorded"]


def test_a_heavy_part_asks_for_a_second_person_and_an_unweighed_one_says_so() -> None:
    made = of("  - title: Take the cover off\n    do: [remove: cover.screw, lift off: cover]\n")
    assert made["People"].lines and made["People"].lines[0].words == "2"
    assert made["People"].lines[0].note == "at step 1, for Cover of 20 kg"
    made = of("  - title: Take the seal off\n    do: [lift off: seal]\n")
    assert made["People"].lines and made["People"].lines[1].words == "Mass not recorded"


def test_none_and_not_recorded_are_never_the_same() -> None:
    looked = of("  - title: Look\n    do: [inspect: cover]\n", "supplies: none\n")
    assert looked["Supplies"].lines == () and looked["Spares"].lines == ()
    silent = of("  - title: Look\n    text: See.\n")
    assert silent["Supplies"].lines is None and silent["Spares"].lines is None and silent["Time"].lines is None
    assert silent["Support equipment"].lines is None


def test_the_time_adds_the_steps_and_names_those_nobody_timed() -> None:
    made = of(
        "  - title: Take the screws out\n    do: [remove: cover.screw]\n  - title: Wait\n    text: Have a coffee.\n"
    )
    assert words(made["Time"]) == ["40 s", "Step 2: not recorded"]  # 4 screws of 10 s, the record language's default


def test_the_summary_names_each_hazard_once_most_severe_first() -> None:
    mbook = Book(demo().derived).machine("bc300")
    messages = safety_summary(mbook, mbook.machine.procedures["lift-hood"])
    signals = [one.signal for one in messages]
    assert signals == sorted(signals, key=("DANGER", "WARNING", "CAUTION", "NOTICE").index)
    assert len({one.link for one in messages}) == len(messages)


def test_every_procedure_page_of_the_demo_has_all_seven_requirements() -> None:
    for page in demo_pages().values():
        if page.kind == "procedure":
            assert [need.label for need in page.context["needs"]] == [
                *("Required conditions", "People", "Time", "Support equipment", "Protective equipment", "Supplies"),
                "Spares",
            ]


def test_a_tool_that_isolates_one_way_is_asked_for_that_way_only() -> None:
    def tools(procedure: str, machine: str) -> str:
        page = all_words(tree(f"machine/{machine}/procedure/{procedure}/index.html"))
        return page.partition("Protective equipment")[0]

    assert "Lock-off hood for plugs with padlock" in tools("make-dead", "fp420")
    assert "Wooden chock" not in tools("make-dead", "fp420")  # nothing of that machine is blocked
    assert "Lock-off hood for plugs with padlock" in tools("make-dead", "bc300")
    assert "Wooden chock for the drive roller" in tools("make-dead", "bc300")
