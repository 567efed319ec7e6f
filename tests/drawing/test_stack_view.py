"""The picture of the height stack: to one scale, every layer with its number, none upon another."""

from itertools import combinations

import pytest

from spring_layout.deck import edits
from spring_layout.deck.files import read_deck
from spring_layout.deck.model import Deck
from spring_layout.drawing.primitives import Drawing, Path, Text
from spring_layout.drawing.side_view_look import DARK
from spring_layout.drawing.stack_view import stack_view, stack_words
from spring_layout.drawing.svg import svg_bytes
from spring_layout.resources import sample_decks
from spring_layout.words import UK
from tests.decks import grid_deck
from tests.drawing.reading import of_kind, parsed, shape_of, texts

ROOM = (76.0, 72.0)
"""mm, the room in the column of particulars."""


def seat(**fields: object) -> Deck:
    """18 in finished with a 4 in cushion, webbing 9 in up: tied to 5 in (common practice)."""
    inch = 25.4
    deck = edits.set_tying(grid_deck(), tied_height=5 * inch)
    known = {"floor_to_webbing": 9 * inch, "cushion": 4 * inch, "over_springs": 0.0}
    return edits.set_seat(deck, **{**known, **fields})


def numbers(drawing: Drawing) -> list[str]:
    return [t.words for t in texts(drawing) if t.tag.kind == "layer-height"]


def names(drawing: Drawing) -> list[str]:
    return [t.words for t in texts(drawing) if t.tag.kind == "layer-name"]


def test_the_layers_and_the_whole_are_written_in() -> None:
    drawing = stack_view(seat(), ROOM)
    # layers from the top down, then the whole
    assert names(drawing) == ["cushion", "tied height", "floor to webbing", "finished"]
    assert numbers(drawing) == ["4 in", "5 in", "9 in", "18 in"]
    assert "finished 18 in from the floor" in drawing.description


def test_the_layers_are_drawn_to_one_scale() -> None:
    deck = seat(over_springs=25.4)
    pillows = {i.tag.title: i for i in of_kind(stack_view(deck, ROOM), "layer")}
    high = {
        title: max(s.y for s in p.steps if hasattr(s, "y"))
        - min(s.y for s in p.steps if hasattr(s, "y"))
        for title, p in pillows.items()
        if isinstance(p, Path)
    }
    assert high["cushion"] == pytest.approx(4 * high["over the springs"])


def test_the_part_that_follows_stands_after_an_equals_sign() -> None:
    drawing = stack_view(seat(), ROOM, follows="tied_height")
    assert "= 5 in" in numbers(drawing)
    assert [n for n in numbers(drawing) if n.startswith("=")] == ["= 5 in"]
    assert numbers(stack_view(seat(), ROOM, follows="finished_height"))[-1] == "= 18 in"


def test_without_the_floor_the_height_is_told_above_the_webbing() -> None:
    deck = edits.set_seat(seat(), floor_to_webbing=None)
    drawing = stack_view(deck, ROOM)
    assert numbers(drawing)[-1] == "9 in"
    assert {"above the", "webbing"} <= set(names(drawing))
    assert stack_words(deck).endswith("9 in above the webbing.")


def test_a_seat_measured_in_the_middle_stands_higher_by_its_crown() -> None:
    deck = edits.set_tying(seat(measured_at="middle"), crown=25.4)
    assert numbers(stack_view(deck, ROOM))[-1] == "19 in"


def test_millimetres_where_the_deck_is_in_millimetres() -> None:
    deck = edits.set_units(seat(), "mm")
    assert numbers(stack_view(deck, ROOM)) == ["101.6 mm", "127 mm", "228.6 mm", "457.2 mm"]


def clear_of_each_other(drawing: Drawing) -> None:
    written: list[Text] = texts(drawing)
    for one, other in combinations(written, 2):
        assert shape_of(one).intersection(shape_of(other)).area < 1e-6, (one.words, other.words)
    for text in written:
        x0, y0, x1, y1 = shape_of(text).bounds
        assert x0 >= 0, text.words
        assert y0 >= 0, text.words
        assert x1 <= drawing.width, text.words
        assert y1 <= drawing.height, text.words


@pytest.mark.parametrize("path", sample_decks(), ids=lambda p: p.name.split(".")[0])
def test_no_words_lie_upon_each_other_in_any_sample(path: object) -> None:
    deck = read_deck(path)  # type: ignore[arg-type]  # a path
    for room in (ROOM, (64.0, 60.0)):
        clear_of_each_other(stack_view(deck, room))
        thin = edits.set_seat(deck, over_springs=4.0, cushion=8.0, floor_to_webbing=300.0)
        clear_of_each_other(stack_view(thin, room, DARK, "over_springs"))


def test_a_deck_without_springs_has_a_stack_too() -> None:
    deck = edits.remove_springs(seat(), [f"s{i}" for i in range(1, 10)])
    drawing = stack_view(deck, ROOM)
    assert numbers(drawing)[-1] == "18 in"
    clear_of_each_other(drawing)


def test_the_picture_is_a_well_formed_svg_that_tells_what_it_shows() -> None:
    root = parsed(svg_bytes(stack_view(seat(), ROOM)))
    told = root.find("{http://www.w3.org/2000/svg}desc")
    assert told is not None
    assert told.text == stack_words(seat())


def test_it_is_told_in_british_words_where_they_are_chosen():
    drawing = stack_view(seat(), ROOM, words=UK)
    said = [text.words for text in texts(drawing)]
    assert "floor to web" in said
    assert "webbing" not in " ".join([*said, drawing.description])
