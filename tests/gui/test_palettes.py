"""Contrast of both palettes: text at least 4.5 : 1, lines and symbols 3 : 1 (WCAG 2.1)."""

import pytest

from spring_layout.deck.model import RUNS
from spring_layout.gui.theme.contrast import contrast
from spring_layout.gui.theme.palettes import DARK, LIGHT, Palette

BOTH = pytest.mark.parametrize("palette", [LIGHT, DARK], ids=lambda palette: palette.name)
GROUNDS = ("paper", "desk", "field")


def test_contrast_meets_the_ends_of_the_scale() -> None:
    # WCAG 2.1: black on white is 21 : 1; a colour on itself 1 : 1; #777777 on white is 4.48 : 1.
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#123456", "#123456") == pytest.approx(1)
    assert contrast("#777777", "#FFFFFF") == pytest.approx(4.48, abs=0.005)


@BOTH
@pytest.mark.parametrize("ground", GROUNDS)
@pytest.mark.parametrize("text", ["ink", "faint", "accent", "mark"])
def test_text_is_readable(palette: Palette, text: str, ground: str) -> None:
    assert contrast(getattr(palette, text), getattr(palette, ground)) >= 4.5


@BOTH
def test_text_on_washes_is_readable(palette: Palette) -> None:
    assert contrast(palette.ink, palette.accent_wash) >= 4.5
    assert contrast(palette.faint, palette.accent_wash) >= 4.5
    assert contrast(palette.ink, palette.mark_wash) >= 4.5
    assert contrast(palette.on_accent, palette.accent) >= 4.5
    assert contrast(palette.ink, palette.rail) >= 4.5


@BOTH
@pytest.mark.parametrize("ground", ["paper", "webbing", "steel"])
def test_ties_rings_and_knots_stand_out_of_what_lies_under_them(
    palette: Palette, ground: str
) -> None:
    under = getattr(palette, ground)
    for run in RUNS:
        assert contrast(palette.run(run), under) >= 3
    assert contrast(palette.knot, under) >= 3
    assert contrast(palette.ink, under) >= 3
    assert contrast(palette.accent, under) >= 3
    assert contrast(palette.mark, under) >= 3


@BOTH
def test_the_inside_edge_stands_out_of_rail_and_paper(palette: Palette) -> None:
    assert contrast(palette.rail_edge, palette.rail) >= 3
    assert contrast(palette.rail_edge, palette.paper) >= 3


@BOTH
def test_ties_stand_out_of_the_rail_that_they_end_on(palette: Palette) -> None:
    for run in RUNS:
        assert contrast(palette.run(run), palette.rail) >= 3
