import math

import msgspec
import pytest

from spring_layout.deck import edits
from spring_layout.deck.edits.springs import image_of, usual_coil
from spring_layout.deck.model import Spring
from tests.decks import SEAT_COIL, grid_deck

ARM_COIL = msgspec.structs.replace(SEAT_COIL, id="arm", free_height=100)


@pytest.fixture
def deck():
    """Nine springs in a frame of 500 by 500 mm."""
    return edits.add_coil(grid_deck(), ARM_COIL)


def tied_by_hand(deck):
    """The deck with a join, a part and a moved tack point at s1 and others at s5."""
    deck = edits.join_springs(deck, "side-to-side", "s1", "s2")
    deck = edits.part_springs(deck, "front-to-back", "s1", "s4")
    deck = edits.part_springs(deck, "front-to-back", "s5", "s8")
    deck = edits.move_anchor(deck, "front-to-back", "s1", "finish", 0, 100)
    return edits.move_anchor(deck, "side-to-side", "s5", "start", 3, 250)


def place(deck, spring):
    return deck.spring(spring).x, deck.spring(spring).y


def test_a_spring_is_set_with_a_fresh_id_and_the_usual_size(deck):
    more = edits.add_spring(deck, 180, 180)
    assert more.springs[-1] == Spring(id="s10", coil="seat", x=180, y=180, held=False)
    assert len(deck.springs) == 9


def test_a_fresh_id_is_one_that_no_spring_has(deck):
    fewer = edits.remove_springs(deck, ["s3"])
    assert edits.add_spring(fewer, 180, 180).springs[-1].id == "s10"
    renamed = edits.rename_spring(deck, "s1", "s10")
    assert edits.fresh_id(renamed.springs) == "s11"


def test_several_springs_are_set_at_once_in_a_chosen_size(deck):
    more = edits.add_springs(deck, [(180, 180), (320, 180)], "arm")
    assert [(s.id, s.coil) for s in more.springs[-2:]] == [("s10", "arm"), ("s11", "arm")]


def test_the_usual_size_is_that_of_most_springs_else_the_first(deck):
    most = edits.recoil_springs(deck, [f"s{i}" for i in range(1, 7)], "arm")
    assert usual_coil(most) == "arm"
    assert usual_coil(edits.replace_springs(deck, ())) == "seat"
    bare = edits.replace_springs(deck, ())
    bare = edits.remove_coil(edits.remove_coil(bare, "arm"), "seat")
    with pytest.raises(ValueError, match="choose one first"):
        edits.add_spring(bare, 180, 180)


def test_a_spring_set_outside_the_opening_is_refused(deck):
    with pytest.raises(ValueError, match="Spring s10 stands outside"):
        edits.add_spring(deck, 900, 0)


def test_springs_move_together(deck):
    moved = edits.move_springs(deck, ["s1", "s5"], 3, -4)
    assert (place(moved, "s1"), place(moved, "s5")) == ((111, 104), (253, 246))
    assert [s for s in moved.springs if s.id not in ("s1", "s5")] == [
        s for s in deck.springs if s.id not in ("s1", "s5")
    ]
    assert edits.move_springs(moved, ["s1", "s5"], -3, 4) == deck


def test_a_single_id_is_one_spring_not_its_letters(deck):
    assert place(edits.move_springs(deck, "s1", 3, 0), "s1") == (111, 108)


def test_with_both_sides_the_same_the_partner_moves_as_in_a_mirror(deck):
    moved = edits.move_springs(deck, ["s1"], 6, 2, symmetric=True)
    assert (place(moved, "s1"), place(moved, "s3")) == ((114, 110), (386, 110))


def test_with_both_sides_the_same_the_middle_and_whole_rows_only_move_front_and_back(deck):
    middle = edits.move_springs(deck, ["s2"], 6, 2, symmetric=True)
    assert place(middle, "s2") == (250, 110)
    row = edits.move_springs(deck, ["s1", "s2", "s3"], 6, 2, symmetric=True)
    assert [place(row, s) for s in ("s1", "s2", "s3")] == [(108, 110), (250, 110), (392, 110)]


def test_a_spring_without_a_partner_moves_alone(deck):
    lone = edits.recoil_springs(deck, ["s3"], "arm")
    moved = edits.move_springs(lone, ["s1"], 6, 0, symmetric=True)
    assert (place(moved, "s1"), place(moved, "s3")) == ((114, 108), (392, 108))


def test_springs_are_placed_exactly(deck):
    placed = edits.place_springs(deck, {"s1": (110.0004, 120), "s2": (240, 125)})
    assert (place(placed, "s1"), place(placed, "s2")) == ((110, 120), (240, 125))
    assert place(edits.place_spring(deck, "s9", 400, 400), "s9") == (400, 400)


@pytest.mark.parametrize("value", [math.nan, math.inf, 30_000])
def test_a_place_that_cannot_be_is_refused(deck, value):
    with pytest.raises(ValueError, match="Spring s1: x is"):
        edits.place_spring(deck, "s1", value, 100)


def test_a_spring_that_is_not_there_is_told(deck):
    for edit in (
        lambda: edits.move_springs(deck, ["s1", "s99"], 1, 1),
        lambda: edits.place_spring(deck, "s99", 1, 1),
        lambda: edits.remove_springs(deck, ["s99"]),
        lambda: edits.hold_springs(deck, ["s99"]),
        lambda: edits.turn_springs(deck, ["s99"], 0),
        lambda: edits.recoil_springs(deck, ["s99"], "seat"),
        lambda: edits.mirror_springs(deck, ["s99"]),
        lambda: edits.add_mirrored(deck, ["s99"]),
        lambda: edits.rename_spring(deck, "s99", "a"),
    ):
        with pytest.raises(ValueError, match="There is no spring “s99”"):
            edit()


def test_removing_a_spring_removes_what_names_it(deck):
    fewer = edits.remove_springs(tied_by_hand(deck), ["s1"])
    assert [spring.id for spring in fewer.springs] == [f"s{i}" for i in range(2, 10)]
    assert fewer.tying.joins == ()
    assert [p.springs for p in fewer.tying.parts] == [("s8", "s5")]
    assert [a.spring for a in fewer.tying.anchors] == ["s5"]


def test_renaming_a_spring_renames_what_names_it(deck):
    renamed = edits.rename_spring(tied_by_hand(deck), "s1", "corner")
    assert renamed.springs[0].id == "corner"
    assert renamed.tying.joins[0].springs == ("corner", "s2")
    assert renamed.tying.parts[0].springs == ("s4", "corner")
    assert renamed.tying.anchors[0].spring == "corner"
    assert edits.rename_spring(renamed, "corner", "s1") == tied_by_hand(deck)


@pytest.mark.parametrize(("name", "says"), [("s2", "have the id “s2”"), ("a b", "letters A-Z")])
def test_an_id_that_is_taken_or_no_id_is_refused(deck, name, says):
    with pytest.raises(ValueError, match=says):
        edits.rename_spring(deck, "s1", name)


def test_other_springs_altogether_keep_what_still_names_them(deck):
    tied = tied_by_hand(deck)
    other = edits.replace_springs(tied, [s for s in tied.springs if s.id != "s1"])
    assert other == edits.remove_springs(tied, ["s1"])


def test_springs_are_kept_here_and_let_go(deck):
    held = edits.hold_springs(deck, ["s1", "s2"])
    assert [spring.held for spring in held.springs[:3]] == [True, True, False]
    assert edits.hold_springs(held, ["s1", "s2"], False) == deck


def test_the_height_a_spring_was_measured_at_is_kept_and_taken_back(deck):
    measured = edits.measure_springs(deck, ["s1"], 113.5)
    assert [s.measured_height for s in measured.springs[:2]] == [113.5, None]
    assert edits.measure_springs(measured, ["s1"], None) == deck
    with pytest.raises(ValueError, match="more than nothing"):
        edits.measure_springs(deck, ["s1"], -3)


def test_springs_are_turned(deck):
    turned = edits.turn_springs(deck, ["s1"], -30)
    assert turned.spring("s1").turned == 330
    with pytest.raises(ValueError, match="turned is nan"):
        edits.turn_springs(deck, ["s1"], math.nan)


def test_springs_are_made_another_size(deck):
    other = edits.recoil_springs(deck, ["s1"], "arm")
    assert [spring.coil for spring in other.springs[:2]] == ["arm", "seat"]
    with pytest.raises(ValueError, match="no spring size “back”"):
        edits.recoil_springs(deck, ["s1"], "back")


def test_springs_are_mirrored_about_the_frames_middle(deck):
    odd = edits.turn_springs(edits.move_springs(deck, ["s1"], 5, 7), ["s1"], 30)
    mirrored = edits.mirror_springs(odd, ["s1"])
    assert place(mirrored, "s1") == (387, 115)
    assert mirrored.spring("s1").turned == 150
    assert edits.mirror_springs(mirrored, ["s1"]) == odd
    assert image_of(deck, 113, 115) == (387, 115)


def test_springs_are_copied_to_the_other_side_where_none_stands_yet(deck):
    half = edits.remove_springs(deck, ["s3", "s6"])
    whole = edits.add_mirrored(half, ["s1", "s2", "s4", "s7"])
    assert [place(whole, s.id) for s in whole.springs[7:]] == [(392, 108), (392, 250)]


def test_pasted_springs_have_fresh_ids_and_bring_their_size(deck):
    copied = edits.hold_springs(edits.recoil_springs(deck, ["s1"], "arm"), ["s1"]).springs[:2]
    bare = edits.remove_coil(deck, "arm")
    pasted = edits.paste_springs(bare, copied, 10, 20, coils=[ARM_COIL, SEAT_COIL])
    assert [(s.id, s.coil, s.x, s.y, s.held) for s in pasted.springs[9:]] == [
        ("s10", "arm", 118, 128, True),
        ("s11", "seat", 260, 128, False),
    ]
    assert [coil.id for coil in pasted.coils] == ["seat", "arm"]
    with pytest.raises(ValueError, match="names the spring size “arm”"):
        edits.paste_springs(bare, copied)


def test_a_spring_size_is_changed_and_loses_a_gauge_that_is_not_its_wires(deck):
    gauged = edits.change_coil(deck, "seat", wire=3.6576, gauge="SWG 9")
    assert edits.change_coil(gauged, "seat", turns=7).coils[0].gauge == "SWG 9"
    assert edits.change_coil(gauged, "seat", wire=3.25).coils[0].gauge is None
    assert edits.change_coil(gauged, "seat", wire=3.25, gauge="SWG 10").coils[0].gauge == "SWG 10"


def test_a_spring_size_is_renamed_in_its_springs_too(deck):
    renamed = edits.rename_coil(deck, "seat", "nine")
    assert {spring.coil for spring in renamed.springs} == {"nine"}
    assert edits.change_coil(deck, "seat", id="nine") == renamed
    with pytest.raises(ValueError, match="have the id “arm”"):
        edits.rename_coil(deck, "seat", "arm")


def test_a_spring_size_in_use_goes_only_when_another_takes_its_place(deck):
    with pytest.raises(ValueError, match="used by 9 of the springs"):
        edits.remove_coil(deck, "seat")
    with pytest.raises(ValueError, match="used by 9 of the springs"):
        edits.remove_coil(deck, "seat", instead="seat")
    other = edits.remove_coil(deck, "seat", instead="arm")
    assert [coil.id for coil in other.coils] == ["arm"]
    assert {spring.coil for spring in other.springs} == {"arm"}


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"wire": 0}, "wire is 0 in; it must be over 0 and at most 65 ft"),
        ({"turns": 1.5}, "is 1.5 turns; it must be from 2 to 100 turns"),
        ({"free_height": -25.4}, "free height is -1 in; it must be over 0"),
        ({"shape": "barrel"}, 'one of "double-cone"'),
        ({"turns": object()}, "must be a number, not something else"),
        ({"gauge": "\x00"}, "cannot be printed"),
    ],
)
def test_a_spring_size_that_cannot_be_is_refused(deck, fields, says):
    with pytest.raises(ValueError, match=says):
        edits.change_coil(deck, "seat", **fields)


def test_a_range_is_told_in_inches_at_both_its_ends(deck):
    with pytest.raises(ValueError, match=r"bow is 2952 ft; it must be from -65 ft to 65 ft\."):
        edits.bow_side(deck, 0, 900_000)


def test_a_spring_size_that_is_not_there_is_told(deck):
    for edit in (
        lambda: edits.change_coil(deck, "back", turns=5),
        lambda: edits.remove_coil(deck, "back"),
        lambda: edits.remove_coil(deck, "seat", instead="back"),
        lambda: edits.rename_coil(deck, "back", "b"),
    ):
        with pytest.raises(ValueError, match="There is no spring size “back”"):
            edit()
