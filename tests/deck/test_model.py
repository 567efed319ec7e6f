from typing import get_args

import msgspec
import pytest

from spring_layout.deck import model
from spring_layout.deck.model import snapped
from spring_layout.deck.ranges import ranges_of
from spring_layout.deck.validate import faults
from tests.decks import SEAT_COIL, grid_deck


def test_a_spring_and_its_size_are_found_by_name():
    deck = grid_deck()
    assert deck.spring("s5").x == 250
    assert deck.coil_of(deck.spring("s5")) is deck.coils[0]
    with pytest.raises(KeyError):
        deck.spring("s99")
    with pytest.raises(KeyError):
        deck.coil_of(type(deck.springs[0])(id="a", coil="arm", x=0, y=0, held=False))


def test_the_top_coils_radius_is_half_its_diameter():
    assert SEAT_COIL.top_radius == 46


def test_places_are_snapped_to_a_thousandth_and_never_to_negative_zero():
    assert snapped(1.23449) == 1.234
    assert str(snapped(-0.0001)) == "0.0"
    assert snapped(float("inf")) == float("inf")


STRUCTURES = [
    kind
    for kind in vars(model).values()
    if isinstance(kind, type) and issubclass(kind, msgspec.Struct)
]


@pytest.mark.parametrize("kind", STRUCTURES)
def test_every_number_of_the_model_has_a_range(kind):
    numbers = {
        field.name
        for field in msgspec.structs.fields(kind)
        if {int, float} & {field.type, *get_args(field.type)}
    }
    # which side a tack point is on is checked against the frame
    lists = {"front_to_back", "side_to_side", "side"}
    assert numbers - lists <= set(ranges_of(kind))


def test_a_sound_deck_has_no_faults_and_all_faults_of_another_are_listed():
    deck = grid_deck()
    assert faults(deck) == []
    springs = (deck.springs[0], deck.springs[0], *deck.springs[2:])
    bad = type(deck)(
        name="\x01",
        frame=deck.frame,
        coils=deck.coils,
        springs=springs,
        tying=type(deck.tying)(
            front_to_back=True, side_to_side=True, diagonals="all", tied_height=0, crown=-1
        ),
    )
    assert [fault.place for fault in faults(bad)] == [
        "$.name",
        "$.springs[1].id",
        "$.tying.tied_height",
        "$.tying.crown",
    ]
