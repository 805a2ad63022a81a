"""Published colour codes: IEC 60757 (Table 1, rules of combination), DIN 47100, ANSI/TIA-568."""

from __future__ import annotations

from benchleaf.drawings.colours import STANDARD, read_colour, read_colours

# IEC 60757, Table 1: codes in the standard's order with their words.
IEC_60757 = {
    "BK": "black",
    "BN": "brown",
    "RD": "red",
    "OG": "orange",
    "YE": "yellow",
    "GN": "green",
    "BU": "blue",
    "VT": "violet",
    "GY": "grey",
    "WH": "white",
    "PK": "pink",
    "GD": "gold",
    "TQ": "turquoise",
    "SR": "silver",
}

# DIN 47100: conductor number to colour, ground colour first (its order is not that of IEC 60757).
_DIN_47100_1_TO_15 = "WH BN GN YE GY PK BU RD BK VT GYPK RDBU WHGN BNGN WHYE"
_DIN_47100_16_TO_30 = "YEBN WHGY GYBN WHPK PKBN WHBU BNBU WHRD BNRD WHBK BNBK GYGN YEGY PKGN YEPK"
DIN_47100 = f"{_DIN_47100_1_TO_15} {_DIN_47100_16_TO_30}".split()

# Of DIN 47100's two-colour codes, those that happen to stand in IEC 60757's order (by hand from Table 1).
DIN_IN_IEC_ORDER = {"GYPK", "RDBU", "BNGN", "BNBU", "BNRD", "YEGY", "YEPK", "WHPK"}


def test_the_table_is_the_standards_table_in_its_order() -> None:
    assert [(c.code, c.word) for c in STANDARD] == list(IEC_60757.items())


def test_red_with_blue_is_written_rdbu() -> None:
    # IEC 60757: two colours on one item are put together in Table 1 order.
    assert read_colour("BURD").code == "RDBU"
    assert read_colour("RDBU").notes == ()


def test_five_conductors_are_joined_by_plus() -> None:
    # IEC 60757's example of different items joined by +.
    assert [r.notes for r in read_colours("BK+BK+BN+BU+GNYE")] == [()] * 5


def test_every_din_47100_colour_reads_as_the_colours_it_names() -> None:
    assert len(DIN_47100) == 30
    for typed in DIN_47100:
        reading = read_colour(typed)
        assert reading.understood
        assert "".join(colour.code for colour in reading.colours) == typed
        assert reading.words == " and ".join(IEC_60757[typed[n : n + 2]] for n in range(0, len(typed), 2))


def test_din_47100_colours_out_of_iec_order_carry_a_note_and_no_others() -> None:
    noted = {typed for typed in DIN_47100 if read_colour(typed).notes}
    assert noted == {t for t in DIN_47100 if len(t) == 4} - DIN_IN_IEC_ORDER


def test_white_green_of_din_47100_is_gnwh_by_iec_60757() -> None:
    assert read_colour("WHGN").code == "GNWH"


def test_the_pairs_of_tia_568_read_with_their_slash() -> None:
    # ANSI/TIA-568: white ground with a stripe of the pair's colour, written WH/GN and so on.
    for typed, standard in (("WH/GN", "GNWH"), ("WH/OG", "OGWH"), ("WH/BU", "BUWH"), ("WH/BN", "BNWH")):
        reading = read_colour(typed)
        assert reading.code == standard
        assert reading.colours[0].word == "white"
