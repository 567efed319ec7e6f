"""What the checks say of the base, the seat's height and the twine."""

import pytest

from spring_layout.deck.model import Deck
from tests.checks.made import framed, moved, tied, told, with_
from tests.decks import grid_deck

INCH = 25.4


def webbed(**changes: object) -> Deck:
    return with_(grid_deck(), webbing=with_(grid_deck().webbing, **changes))


def seated(**changes: object) -> Deck:
    return with_(grid_deck(), seat=with_(grid_deck().seat, **changes))


def test_a_stitch_between_two_strips_is_told_with_its_spring():
    deck = moved(webbed(front_to_back=(108.0, 392.0)), s5=(250, 250))
    found = told(deck)["STITCH-OFF-WEB"]
    assert [f.springs for f in found] == [("s2", "s5", "s8")]
    assert "6 stitches of the feet of A2, B2 and C2 fall between the strips" in found[0].message


def test_a_single_stitch_is_told_in_the_singular():
    """The strip under the middle spring ends at 290.5 mm, its front stitch lies at 296."""
    deck = webbed(front_to_back=(108.0, 392.0), side_to_side=(108.0, 246.0, 392.0))
    corners_and_middle = ("s1", "s3", "s5", "s7", "s9")
    deck = with_(deck, springs=tuple(s for s in deck.springs if s.id in corners_and_middle))
    (finding,) = told(deck)["STITCH-OFF-WEB"]
    assert finding.springs == ("s5",)
    assert finding.message.startswith("A stitch of the foot of B1 falls between the strips")


def test_feet_that_are_not_stitched_need_no_strips():
    assert "STITCH-OFF-WEB" not in told(webbed(front_to_back=(), foot_fixing="clip"))
    assert "STITCH-OFF-WEB" not in told(webbed(fixed="plywood"))


def test_strips_set_over_each_other_are_told_with_how_far():
    found = told(webbed(front_to_back=(108.0, 250.0, 320.0, 392.0)))["STRIP-OVERLAP"]
    assert [f.value for f in found] == [pytest.approx(19)]
    assert (
        "front to back, numbers 2 and 3 from the left, lie over each other by 3/4 in"
        in found[0].message
    )


def test_strips_that_the_program_lays_never_overlap():
    assert "STRIP-OVERLAP" not in told(webbed(side_to_side=(108.0, 250.0, 392.0)))


def test_a_seat_that_comes_out_too_high_is_told_with_the_tied_height_that_mends_it():
    """Common practice, no source: 18 in, cushion 4 in, webbing 9 in up: tied to 5 in."""
    deck = tied(
        seated(finished_height=18 * INCH, cushion=4 * INCH, floor_to_webbing=9 * INCH),
        tied_height=5.75 * INCH,
    )
    (finding,) = told(deck)["SEAT-HEIGHT"]
    assert "comes out at 18 3/4 in, 3/4 in higher than the 18 in wanted" in finding.message
    assert finding.mend.startswith("Tie to 5 in")


def test_a_seat_within_a_hairs_breadth_of_the_wanted_height_is_not_told():
    deck = seated(finished_height=450.0, floor_to_webbing=230.0)
    assert "SEAT-HEIGHT" not in told(tied(deck, tied_height=117.0))
    assert "SEAT-HEIGHT" in told(tied(deck, tied_height=127.0))


def test_where_no_tied_height_could_mend_it_none_is_named():
    deck = seated(finished_height=250.0, floor_to_webbing=230.0)
    (finding,) = told(deck)["SEAT-HEIGHT"]
    assert finding.mend.startswith("Change the cushion")


@pytest.mark.parametrize(("floor", "limit"), [(100.0, 400), (400.0, 510)])
def test_a_seat_too_low_or_high_for_most_sitters_is_noted(floor, limit):
    (finding,) = told(seated(floor_to_webbing=floor))["SEAT-UNUSUAL"]
    assert (finding.severity, finding.limit) == ("note", limit)


def test_a_height_that_is_not_decided_is_not_told():
    assert not {"SEAT-HEIGHT", "SEAT-UNUSUAL"} & told(grid_deck()).keys()


def test_a_rule_of_thumb_that_leaves_pieces_short_is_noted_with_by_how_much():
    deck = with_(grid_deck(), twine=with_(grid_deck().twine, rule="single-1.67"))
    (finding,) = told(deck)["TWINE-SHORT"]
    assert finding.severity == "note"
    assert finding.lines == tuple(range(1, 13))
    assert "would leave ties 1, 2, 3, 4, 5, 6 and 6 more short, tie" in finding.message
    assert "TWINE-SHORT" not in told(grid_deck())


def test_one_short_piece_is_told_in_the_singular():
    deck = grid_deck(1, 1)
    twine = with_(deck.twine, rule="single-1.67")
    deck = tied(with_(deck, twine=twine), side_to_side=False, diagonals="none")
    message = told(deck)["TWINE-SHORT"][0].message
    assert "would leave tie 1 short by " in message


@pytest.mark.parametrize("changes", [{"front_to_back": (), "side_to_side": ()}, {"width": 1000.0}])
@pytest.mark.parametrize("fixing", ["stitch", "clip"])
def test_springs_without_any_webbing_under_them_are_wrong(changes, fixing):
    found = told(webbed(**changes, foot_fixing=fixing))
    (finding,) = found["WEB-NONE"]
    assert finding.severity == "wrong"
    assert "nothing to stand on" in finding.message
    assert not {"STITCH-OFF-WEB", "WEB-ONE-WAY"} & found.keys()


def test_strips_of_one_direction_only_are_doubtful():
    (finding,) = told(webbed(front_to_back=()))["WEB-ONE-WAY"]
    assert finding.severity == "doubtful"
    assert len(finding.springs) == 9
    assert finding.message == (
        "No webbing runs front to back, so all springs stand on no crossing."
    )


def test_a_spring_beside_the_strips_of_one_direction_is_named():
    found = told(webbed(side_to_side=(108.0, 392.0)))["WEB-ONE-WAY"]
    assert [f.springs for f in found] == [("s4", "s5", "s6")]
    assert found[0].message.startswith("No strip of webbing runs side to side under the feet of B1")
    deck = with_(grid_deck(1, 1), webbing=webbed(side_to_side=(10.0,)).webbing)
    assert "under the foot of A1." in told(deck)["WEB-ONE-WAY"][0].message


def test_a_plywood_floor_needs_no_webbing():
    assert not {"WEB-NONE", "WEB-ONE-WAY"} & told(webbed(fixed="plywood")).keys()


def test_webbing_over_rails_that_stand_above_it_is_noted():
    (finding,) = told(webbed(fixed="over-rails"))["WEB-OVER-RAIL"]
    assert finding.severity == "note"
    assert (finding.value, finding.sides) == (75, (0, 1, 2, 3))
    assert "up to 3 in above it" in finding.message


def test_webbing_over_rails_level_with_it_or_under_the_rails_is_not_told():
    assert "WEB-OVER-RAIL" not in told(framed(webbed(fixed="over-rails"), rail_top=0))
    assert "WEB-OVER-RAIL" not in told(grid_deck())
    open_sides = tuple(with_(side, rail="none") for side in grid_deck().frame.sides)
    assert "WEB-OVER-RAIL" not in told(framed(webbed(fixed="over-rails"), sides=open_sides))


def test_a_school_whose_webbing_has_another_schools_measurements_is_noted():
    (finding,) = told(webbed(school="uk"))["WEB-SCHOOL"]
    assert finding.severity == "note"
    assert finding.message == (
        "The webbing is said to be British, of strips 2 in wide and 2 in apart, but has the "
        "American strips, 3 1/2 in wide and 1/4 in apart."
    )


@pytest.mark.parametrize(
    "changes",
    [
        {"school": "uk", "width": 51.0, "gap": 51.0},
        {"school": "uk", "width": 60.0, "gap": 40.0},
        {"school": "fr", "width": 85.0, "gap": 0.0},
        {"school": "uk", "fixed": "plywood"},
    ],
)
def test_a_school_with_its_own_or_the_users_measurements_is_not_told(changes):
    assert "WEB-SCHOOL" not in told(webbed(**changes))
