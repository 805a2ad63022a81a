"""Single pages: what stands on them, what is said aloud when nobody recorded it, and which way the links lead."""

from __future__ import annotations

from tests.pages.library import book, demo, demo_html, demo_pages, drawn, tree, words

from benchleaf.pages.book import Book
from benchleaf.pages.gaps import depth_of, gaps_of
from benchleaf.pages.kinds import home, machine, procedure, records, step
from benchleaf.pages.readable import readable
from benchleaf.pages.step_view import scenes

SMALL = {
    "m1/machine.yaml": "record: machine\nid: m1\nname: Machine\nitems:\n  cover: {name: Cover}\n",
    "m1/teardown/p.yaml": (
        "record: teardown\nid: p\nmachine: m1\ntitle: Take it\nverified: {state: withdrawn}\n"
        "issue: {number: 2, reason: wrong screw named}\nsteps:\n  - title: Look\n    text: See.\n"
    ),
}


def text(path: str) -> str:
    return words(tree(path))


def test_an_emergency_fact_nobody_recorded_says_so_on_the_first_page() -> None:
    page = home.page(book(SMALL))
    shown = drawn(page)
    for label in ("Stop", "Extinguisher", "First aid", "Call"):
        assert f"<dt>{label}</dt>" in shown
    assert shown.count('<span class="not-recorded">') >= 4


def test_the_first_page_of_the_demo_has_the_emergency_facts_before_anything_else() -> None:
    shown = text("index.html")
    assert shown.index("Red handle beside the workshop door") < shown.index("Machines")
    assert shown.index("112 (ask for") < shown.index("Machines")


def test_a_withdrawn_procedure_never_shows_as_current() -> None:
    made = book(SMALL)
    mbook = made.machine("m1")
    record = mbook.machine.procedures["p"]
    pages = [procedure.page(mbook, record), *(step.page(scene, 1) for scene in scenes(mbook, record))]
    for page in pages:
        shown = drawn(page, made)
        assert "Withdrawn. Do not work from this page." in shown
        assert "wrong screw named" in shown
    assert "withdrawn" in drawn(machine.page(mbook), made)
    assert "withdrawn" in drawn(next(iter(records.pages(made))), made)


def test_a_procedure_without_a_state_of_proof_is_unverified() -> None:
    shown = text("machine/fp420/procedure/set-head-height/index.html")
    assert "unverified" in shown
    assert "Prose only, nothing checked: step 1" in shown


def test_a_step_page_carries_what_is_true_there() -> None:
    path = "machine/fp420/procedure/draw-tray/step-7.html"
    shown = text(path)
    assert "step 7 of 7" in shown
    for there in (
        "May I stop here?",
        "The machine after this step",
        "Ledger",
        "tray screw",
        "Tighten to the lower value",
    ):
        assert there in shown
    assert "0.5 ± 0.05 N·m or 0.7 ± 0.03 N·m" in shown


def test_references_lead_both_ways_down_to_the_step() -> None:
    pump = demo_html()["machine/fp420/item/p1.html"].decode()
    assert "procedure/replace-pump/step-7.html" in pump
    assert 'href="../../item/p1.html"' in demo_html()["machine/fp420/procedure/replace-pump/step-7.html"].decode()
    code = demo_html()["machine/fp420/code/12.html"].decode()
    assert "procedure/replace-print-head/index.html" in code
    assert "code/12.html" in demo_html()["machine/fp420/procedure/replace-print-head/index.html"].decode()
    assert "code/12.html" in demo_html()["machine/fp420/item/f2.html"].decode()
    assert "step-6.html" in demo_html()["machine/fp420/connector/a1-j2.html"].decode()


def test_the_way_back_stands_on_the_page_with_a_ledger_that_closes() -> None:
    page = demo_pages()["machine/fp420/procedure/draw-tray/index.html"]
    back = page.context["back"]
    assert len(back.groups) == 1 and all(ending.is_closed for ending in back.endings)
    titles = [one.title for one in back.groups[0][1]]
    assert titles[0].startswith("Move the control tray back")
    assert any(one.applies and "roll" in one.applies.words for one in back.groups[0][1])
    assert back.owed[0].words == "Electrical safety test"


def test_a_missing_screw_of_one_serial_is_on_its_ledger_alone() -> None:
    page = demo_pages()["machine/fp420/procedure/draw-tray/index.html"]
    found = [one for one in page.context["back"].endings if one.as_found]
    assert len(found) == 1 and found[0].applies.words == "mk1, serial 0221"


def test_gaps_are_named_once_and_sorted_by_how_deep_they_lie() -> None:
    made = book({"m1/machine.yaml": SMALL["m1/machine.yaml"]})
    gaps = gaps_of(made.machine("m1"))
    assert len(gaps) == len(set(gaps))
    assert {gap.what for gap in gaps if gap.of == "Cover"} >= {"what holds it", "mass", "what it is behind"}
    page = demo_pages()["machine/fp420/next-opening.html"]
    titles = [section.title for section in page.context["sections"]]
    assert titles[0] == "Seen at once" and any(title.startswith("Behind") for title in titles)


def test_what_lies_behind_more_lies_deeper() -> None:
    fp420 = Book(demo().derived).machine("fp420")
    assert depth_of(fp420, "XP1")[0] == 0
    assert 0 < depth_of(fp420, "S2")[0] <= depth_of(fp420, "A3")[0]


def test_names_in_sentences_of_the_program_become_words() -> None:
    fp420 = Book(demo().derived).machine("fp420")
    assert readable(fp420, "2 of 2 board-tray.tray-screw out") == "2 of 2 tray screws of Control tray out"
    assert readable(fp420, "the guard and the mains") == "the guard and the mains"
    assert readable(fp420, "W4 is unplugged at A1-J2") == "W4 is unplugged at A1-J2"


def test_a_computed_torque_never_stands_in_the_callout() -> None:
    page = demo_pages()["machine/fp420/fasteners.html"]
    for section in page.context["sections"]:
        for block in section.blocks:
            for one in getattr(block, "callouts", ()):
                assert (one.value is None) == (one.status == "not recorded")
                assert "computed" not in " ".join(origin.words for origin in one.origins)


def test_prose_that_mentions_a_word_of_the_glossary_links_it_once() -> None:
    html = demo_html()["machine/fp420/procedure/draw-tray/step-6.html"].decode()
    assert html.count("glossary.html#on-slider") == 1
    assert 'class="term"' in html
