"""The demo's disputed torque, its torque over the limit, its plastic boss and its capacitors, wherever they must show.

What ``check`` says of them, what stands on the pages of the steps concerned, and what is on the printed sheet.
"""

from __future__ import annotations

import re
from functools import cache

from tests.pages.library import demo, demo_html, tree, words
from tests.paper.sheets import demo_pdf, pages_of

WAITING = re.compile(r"\bwait \d+ (?:s|min)\b(?! before the next step)[^.]{0,60}", re.IGNORECASE)


@cache
def on_page(path: str) -> str:
    assert path in demo_html()
    return re.sub(r"\s+", " ", words(tree(path)))


@cache
def on_paper(machine: str, procedure: str) -> str:
    return " ".join(pages_of(demo_pdf(machine, procedure)))


def found(code: str) -> list[str]:
    return [finding.message for finding in demo().findings if finding.code == code]


def test_a_disputed_torque_shows_both_values_and_what_to_do_until_it_is_decided() -> None:
    (said,) = [message for message in found("value-disputed") if "tray-screw" in message]
    assert "0.5 ± 0.05 N·m" in said and "0.7 ± 0.03 N·m" in said
    for text in (on_page("machine/fp420/procedure/draw-tray/index.html"), on_paper("fp420", "draw-tray")):
        assert "0.5 ± 0.05" in text and "0.7 ± 0.03" in text
        assert "disputed" in text.casefold()
        assert "Tighten to the lower value" in text


def test_a_torque_over_its_limit_shows_the_limit_beside_it() -> None:
    (said,) = [message for message in found("torque-over-limit") if message.startswith("2.2")]
    for text in (on_page("machine/fp420/procedure/replace-pump/index.html"), on_paper("fp420", "replace-pump")):
        assert said in text


def test_a_plastic_boss_gets_no_torque_of_the_programs_making() -> None:
    page = on_page("machine/fp420/procedure/replace-print-head/index.html")
    assert "right screw of Right cover: not recorded" in page
    assert re.search(r"1 of M3 × 10, PH1\s*Value\s*not recorded\s*Unit\s*not recorded", page)
    for text in (page, on_paper("fp420", "replace-print-head")):
        assert "These screws cut into plastic and nobody has recorded a torque for them." in text


def test_a_capacitor_with_its_bleed_path_gives_a_time_and_the_measurement_after_it() -> None:
    # R·C·ln(V0/V) with every part at its most: 390 kΩ + 5 %, 100 µF + 20 %, 325 V + 10 % (assumed), to 60 V:
    # 409.5e3 · 120e-6 · ln(357.5/60) = 87.7 s, worked out by hand
    sentence = "wait 88 s, then measure at PS1:+ and PS1:-: not above 60 V DC"
    for text in (
        on_page("machine/fp420/procedure/make-dead/index.html"),
        on_page("machine/fp420/energy-control.html"),
        on_paper("fp420", "make-dead"),
        on_paper("fp420", "make-dead"),
    ):
        assert sentence in text


def test_a_capacitor_without_a_bleed_path_and_one_nobody_looked_at_give_no_time() -> None:
    assert any("C1 Fan capacitor stays charged is unknown" in message for message in found("bleed-time-unknown"))
    for text in (on_page("machine/bc300/procedure/make-dead/index.html"), on_paper("bc300", "make-dead")):
        assert "It does not discharge by itself" in text
        assert "Time unknown: discharge and measure at C1:1 and C1:2: not above 60 V DC" in text
        assert "the bleed path is not recorded" in text
        assert not re.search(r"wait \d", text.casefold())


def test_no_waiting_time_on_any_page_stands_without_the_measurement_after_it() -> None:
    seen = 0
    for path in demo_html():
        for told in WAITING.finditer(on_page(path)):
            seen += 1
            assert "then measure" in told[0], (path, told[0])
    assert seen
