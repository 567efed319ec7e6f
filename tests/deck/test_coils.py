import msgspec
import pytest

from spring_layout.deck.coils import (
    STOCK,
    STOCK_NOTE,
    GaugeError,
    gauge_fault,
    gauge_note,
    nearest_gauge,
    parse_gauge,
    stock_for,
    wire_mm,
    with_gauge,
)
from spring_layout.deck.edits import add_coil
from tests.decks import SEAT_COIL, grid_deck


@pytest.mark.parametrize(
    ("text", "gauge"),
    [
        ("SWG 9", "SWG 9"),
        ("swg9", "SWG 9"),
        ("9 SWG", "SWG 9"),
        ("S.W.G. 10", "SWG 10"),
        ("W&M 9", "W&M 9"),
        ("w & m 11", "W&M 11"),
        ("WM 8", "W&M 8"),
        ("Washburn and Moen 9", "W&M 9"),
        ("US steel wire gauge 9", "W&M 9"),
    ],
)
def test_a_gauge_is_read_with_its_system(text, gauge):
    assert str(parse_gauge(text)) == gauge


@pytest.mark.parametrize("text", ["9", "9 gauge", "No. 9", "gauge 9", "9ga"])
def test_a_bare_nine_is_refused_with_both_wires_and_the_difference(text):
    with pytest.raises(GaugeError, match=r"SWG 9 is 3\.66 mm, W&M 9 is 3\.77 mm \(12 % in stiff"):
        parse_gauge(text)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "no wire gauge"),
        ("thick", "no wire gauge"),
        ("SWG", "no wire gauge"),
        ("SWG 5", "6 to 16"),
        ("W&M 17", "6 to 16"),
        ("20", "not in the tables"),
    ],
)
def test_what_is_no_gauge_of_the_tables_is_told(text, says):
    with pytest.raises(GaugeError, match=says):
        parse_gauge(text)


def test_another_gauge_system_is_told():
    with pytest.raises(GaugeError, match="use SWG or W&M"):
        wire_mm("AWG", 9)


def test_between_two_gauges_the_thicker_is_taken():
    between = (wire_mm("SWG", 9) + wire_mm("SWG", 10)) / 2
    assert nearest_gauge(between, "SWG").number == 9


def test_the_note_says_how_far_the_systems_differ():
    assert gauge_note(9) == "SWG 9 is 3.66 mm and W&M 9 is 3.77 mm: 12 % in stiffness."
    assert gauge_note(9, "in") == "SWG 9 is 0.144 in and W&M 9 is 0.148 in: 12 % in stiffness."
    assert gauge_note(14) == "SWG 14 and W&M 14 are the same wire, 2.03 mm."


def test_giving_a_gauge_sets_the_wire():
    coil = with_gauge(SEAT_COIL, "w&m 9")
    assert (coil.gauge, coil.wire) == ("W&M 9", 3.76682)
    assert gauge_fault(coil) is None


def test_a_wire_rounded_to_a_hundredth_is_still_of_its_gauge():
    assert gauge_fault(msgspec.structs.replace(SEAT_COIL, wire=3.66, gauge="SWG 9")) is None


@pytest.mark.parametrize(
    ("gauge", "says"), [("W&M 9", "3.77 mm, but its wire is 3.66"), ("9", "Say which gauge")]
)
def test_a_gauge_that_does_not_fit_the_wire_is_told(gauge, says):
    assert says in gauge_fault(msgspec.structs.replace(SEAT_COIL, gauge=gauge))


def test_a_coil_without_a_gauge_has_no_gauge_to_doubt():
    assert gauge_fault(SEAT_COIL) is None


def test_every_spring_of_the_short_list_is_a_sound_one_that_says_its_gauge():
    deck = grid_deck()
    for coil in STOCK:
        deck = add_coil(deck, coil)
        assert gauge_fault(coil) is None
        # a coil that is squeezed by the usual most, 35 %, must not go solid
        assert coil.turns * coil.wire < 0.65 * coil.free_height
        assert coil.waist_diameter < coil.top_diameter
    assert "measure yours" in STOCK_NOTE


def test_the_short_list_is_asked_by_free_height():
    assert stock_for(150).id == "seat-6in"
    assert stock_for(1000).id == "seat-12in"
    middle = (STOCK[0].free_height + STOCK[1].free_height) / 2
    assert stock_for(middle).id == "seat-5in"
