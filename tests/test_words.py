"""One table of words for the window, the report and the sheets, on either side of the Atlantic."""

import pytest

from spring_layout.words import UK, US, counted, words_for


@pytest.mark.parametrize(
    ("said", "told"),
    [
        ("Tie 3 bends by 18 degrees.", "Lashing 3 bends by 18 degrees."),
        ("Tie lower, or take taller springs.", "Tie lower, or take taller springs."),
        ("Tie to 5 in, or change the cushion.", "Tie to 5 in, or change the cushion."),
        ("Knot every tie to those that it meets.", "Knot every lashing to those that it meets."),
        ("Tie another run, or join a tie across.", "Tie another run, or join a lashing across."),
        ("Read the checks before you tie.", "Read the checks before you tie."),
        ("TIES, in the order of tying.", "LASHINGS, in the order of tying."),
        ("Outer hitches with a return tie.", "Outer hitches with a return lashing."),
        ("8 strips of webbing, a strip of webbing", "8 webs, a web"),
        ("Webbing, 89 mm wide", "Web, 89 mm wide"),
        ("Spring twine: 5 m, and stitching twine", "Laid cord: 5 m, and stitching twine"),
        ("Tie diagram, seen from above", "Lashing plan, seen from above"),
        ("Burlap over the crown of a seat deck", "Hessian over the dome of a platform"),
        ("The wire of spring size tie is thin.", "The wire of spring size tie is thin."),
        ("Fix a strip of wood across; rail strips", "Fix a strip of wood across; rail strips"),
    ],
)
def test_american_words_are_retold_in_british_ones(said, told):
    assert UK.retold(said) == told
    assert UK.retold(told) == told
    assert US.retold(said) == said


def test_a_deck_in_mm_is_told_in_british_words_unless_somebody_chooses():
    assert words_for("mm") is UK
    assert words_for("in") is US
    assert words_for("mm", "us") is US
    assert words_for("in", "uk") is UK


def test_a_sentence_with_holes_takes_either_sides_words():
    said = "{Ties} over the {webbing} of a {deck}, in {twine}: the {tie_diagram}"
    assert UK.fill(said) == "Lashings over the web of a platform, in laid cord: the lashing plan"
    assert US.fill(said) == "Ties over the webbing of a seat deck, in spring twine: the tie diagram"
    assert (US.tie_title, UK.tie_title) == ("Tie", "Lashing")


def test_things_are_counted_in_the_singular_and_the_plural():
    assert [counted(n, "tie") for n in (0, 1, 2)] == ["0 ties", "1 tie", "2 ties"]
    assert counted(2, "lashing", "lashings") == "2 lashings"
