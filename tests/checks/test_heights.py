"""What the checks say of squeeze, heights, spring sizes and twine on the rail's edge."""

import pytest

from spring_layout.planning.coil_shape import solid_height
from tests.checks.made import coiled, framed, tied, told, with_
from tests.decks import grid_deck


def test_springs_tied_higher_than_they_are_long_are_wrong():
    (finding,) = told(tied(grid_deck(), tied_height=152))["SQUEEZE-NONE"]
    assert finding.severity == "wrong"
    assert len(finding.springs) == 9
    assert finding.message.startswith("All springs are tied no lower than the free height")


def test_springs_hardly_tied_down_are_doubtful():
    found = told(tied(grid_deck(), tied_height=135))
    (finding,) = found["SQUEEZE-SMALL"]
    assert finding.severity == "doubtful"
    assert finding.value == pytest.approx(17 / 152)
    assert finding.limit == pytest.approx(0.20)
    assert "only 11% of the free height; usual is 20% to 35%" in finding.message
    assert "SQUEEZE-NONE" not in found


def test_springs_tied_down_too_far_are_doubtful():
    (finding,) = told(tied(grid_deck(), tied_height=76))["SQUEEZE-LARGE"]
    assert finding.value == pytest.approx(0.5)
    assert finding.limit == pytest.approx(0.35)


def test_a_tall_spring_tied_down_by_an_inch_and_a_half_is_squeezed_enough():
    deck = tied(coiled(grid_deck(), free_height=203.2), tied_height=203.2 - 38.1)
    assert not [code for code in told(deck) if code.startswith("SQUEEZE")]


def test_a_short_spring_tied_down_by_two_inches_is_not_squeezed_too_much():
    deck = tied(coiled(grid_deck(), free_height=127), tied_height=127 - 50.8)
    assert not [code for code in told(deck) if code.startswith("SQUEEZE")]


def test_a_cylinder_tied_to_its_solid_height_is_wrong():
    deck = coiled(grid_deck(), shape="cylinder", turns=30, wire=4)
    (finding,) = told(tied(deck, tied_height=115))["SQUEEZE-SOLID"]
    assert finding.severity == "wrong"


def test_a_single_spring_of_another_height_is_named():
    deck = grid_deck()
    tall = type(deck.coils[0])(
        id="tall",
        free_height=125,
        wire=3.66,
        turns=6,
        top_diameter=92,
        waist_diameter=60,
        foot_diameter=92,
    )
    springs = tuple(
        type(s)(id=s.id, coil="tall" if s.id == "s5" else "seat", x=s.x, y=s.y, held=False)
        for s in deck.springs
    )
    deck = type(deck)(
        name="mixed",
        frame=deck.frame,
        coils=(*deck.coils, tall),
        springs=springs,
        tying=deck.tying,
    )
    (finding,) = told(deck)["SQUEEZE-SMALL"]
    assert finding.springs == ("s5",)
    assert finding.message.startswith("B2 is tied down by only 8%")


def test_a_step_between_neighbours_is_doubtful():
    (finding,) = told(tied(grid_deck(), tied_height=115, tied_height_back=60))["HEIGHT-BETWEEN"]
    assert finding.severity == "doubtful"
    assert finding.value == pytest.approx(27.5)
    assert finding.limit == 25
    assert "more pairs by more than 1 in" in finding.message


def test_one_step_is_told_alone():
    (finding,) = told(tied(grid_deck(2, 1), tied_height_back=83))["HEIGHT-BETWEEN"]
    assert finding.message == "The tied heights of A1 and B1 differ by 1 1/4 in."
    two = told(tied(grid_deck(2, 2), tied_height_back=83))["HEIGHT-BETWEEN"][0].message
    assert two.endswith("differ by 1 1/4 in, those of one more pair by more than 1 in.")


def test_springs_tied_lower_than_the_rail_let_the_twine_rub():
    found = told(framed(grid_deck(), rail_top=130))["TIE-RUBS"]
    assert [finding.sides for finding in found] == [(0,), (1,), (2,), (3,)]
    assert found[0].value == pytest.approx(-15)
    assert "tied 5/8 in lower than the top of the back rail" in found[0].message


def test_one_low_spring_names_its_ties_and_rail():
    deck = grid_deck()
    sides = (*deck.frame.sides[:2], type(deck.frame.sides[0])(rail="front", bow=0, rail_top=120))
    found = told(framed(deck, sides=(*sides, deck.frame.sides[3])))["TIE-RUBS"]
    assert [finding.sides for finding in found] == [(2,)]
    assert found[0].severity == "doubtful"


def test_a_double_cone_without_a_waist_is_doubtful():
    (finding,) = told(coiled(grid_deck(), waist_diameter=92))["COIL-SHAPE"]
    assert finding.severity == "doubtful"
    assert "waist (3 5/8 in) is no narrower than its ends (3 5/8 in)" in finding.message


def test_a_cylinder_needs_no_waist():
    assert "COIL-SHAPE" not in told(coiled(grid_deck(), shape="cylinder", waist_diameter=92))


@pytest.mark.parametrize(("wire", "word"), [(2.0, "thinner"), (5.0, "thicker")])
def test_odd_wire_is_a_note(wire, word):
    (finding,) = told(coiled(grid_deck(), wire=wire))["COIL-WIRE"]
    assert finding.severity == "note"
    assert word in finding.message


def test_sizes_that_no_spring_uses_are_left_alone():
    deck = grid_deck()
    odd = type(deck.coils[0])(
        id="odd",
        free_height=100,
        wire=9,
        turns=5,
        top_diameter=60,
        waist_diameter=60,
        foot_diameter=60,
    )
    deck = type(deck)(
        name="two sizes",
        frame=deck.frame,
        coils=(*deck.coils, odd),
        springs=deck.springs,
        tying=deck.tying,
    )
    assert not [code for code in told(deck) if code.startswith("COIL")]


def test_an_outer_hitch_on_a_coil_far_below_the_rails_top_lets_the_twine_rub():
    """By hand: six turns tied to 115, so the third coil down is at 69, 36 below the rail."""
    deck = tied(framed(grid_deck(), rail_top=105), rim_ring="ring-3")
    found = told(deck)["TIE-RUBS"]
    assert [finding.sides for finding in found] == [(0,), (1,), (2,), (3,)]
    assert (found[0].value, found[0].limit) == (pytest.approx(-36), -12)
    assert found[0].message.startswith(
        "The outer hitches of ties 1, 3 and 4 at A1, A2 and A3 lie up to 1 3/8 in lower than the "
        "top of the back rail"
    )
    assert found[0].mend.startswith("Put them on the coil nearest to the rail's top")


def test_the_coil_nearest_to_the_rails_top_does_not_rub_by_half_a_turn():
    assert "TIE-RUBS" not in told(framed(grid_deck(), rail_top=80))


def test_a_single_low_hitch_of_a_coil_of_few_turns_is_told_in_the_singular():
    deck = tied(coiled(grid_deck(1, 1), turns=4), side_to_side=False, diagonals="none")
    sides = (*deck.frame.sides[:2], type(deck.frame.sides[0])(rail="front", bow=0, rail_top=95))
    found = told(framed(deck, sides=(*sides, deck.frame.sides[3])))["TIE-RUBS"]
    assert [f.message for f in found] == [
        "The outer hitch of tie 1 at A1 lies 3/4 in lower than the top of the front rail, so the "
        "twine comes up over its inside edge and rubs there."
    ]
    assert found[0].mend.startswith("Tie higher")


def test_a_gauge_without_its_system_is_a_note():
    (finding,) = told(coiled(grid_deck(), gauge="9"))["COIL-GAUGE"]
    assert finding.severity == "note"
    assert finding.message.startswith(
        "The gauge of spring size seat, “9”, names no system. SWG 9 is 0.144 in and W&M 9 is 0.148"
    )
    other = told(coiled(grid_deck(), gauge="heavy 3"))["COIL-GAUGE"][0].message
    assert other.endswith("“heavy 3”, is not in the tables of SWG or W&M, 6 to 16.")


def test_a_gauge_of_another_wire_is_a_note_that_names_the_right_one():
    """Both tables in inches (wovenwire.com, wiregauge-print1): SWG 9 is 0.144, W&M 9 0.1483."""
    (finding,) = told(coiled(grid_deck(), gauge="SWG 9", wire=3.7668))["COIL-GAUGE"]
    assert (finding.value, finding.limit) == (3.7668, pytest.approx(3.6576))
    assert finding.message == (
        "Spring size seat is said to be of SWG 9, 0.144 in, but its wire is 0.148 in, which is "
        "W&M 9."
    )
    odd = told(coiled(grid_deck(), gauge="SWG 9", wire=2.2))["COIL-GAUGE"][0].message
    assert odd.endswith("but its wire is 0.087 in.")


@pytest.mark.parametrize(
    ("gauge", "wire"),
    [("SWG 9", 3.6576), ("SWG 9", 3.66), ("W&M 9", 3.77), ("9 SWG", 3.63), (None, 3.1)],
)
def test_a_gauge_that_is_that_of_the_wire_is_not_told(gauge, wire):
    assert "COIL-GAUGE" not in told(coiled(grid_deck(), gauge=gauge, wire=wire))


def test_a_double_cone_tied_to_its_two_flat_halves_is_wrong():
    """Three turns a half from 90 to 50 telescope (check value S4): solid at two wires."""
    deck = coiled(grid_deck(), top_diameter=90, waist_diameter=50, foot_diameter=90, wire=3.6576)
    assert solid_height(deck.coils[0]) == pytest.approx(2 * 3.6576)
    assert "SQUEEZE-SOLID" in told(tied(deck, tied_height=7.0))
    assert "SQUEEZE-SOLID" not in told(tied(deck, tied_height=8.0))


def test_turns_too_narrow_to_telescope_lie_on_each_others_shoulders():
    """Computed from the geometry: nine turns a half from 90 to 50 rise 2.905128 mm a turn."""
    coil = coiled(
        grid_deck(), turns=18, top_diameter=90, waist_diameter=50, foot_diameter=90, wire=3.6576
    ).coils[0]
    assert solid_height(coil) == pytest.approx(17 * 2.905128 + 3.6576, abs=1e-4)


def test_a_single_cone_that_telescopes_lies_flat_and_a_cylinder_stacks_its_wire():
    cone = coiled(grid_deck(), shape="single-cone", top_diameter=90, foot_diameter=40).coils[0]
    assert solid_height(cone) == pytest.approx(3.66)
    assert solid_height(with_(cone, shape="cylinder", turns=30, wire=4)) == pytest.approx(120)
