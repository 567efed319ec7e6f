"""What makes a sheet legible, as assertions that the drawing tests share."""

import shapely

from spring_layout.drawing.lettering import LEAST_HEIGHT, font_size
from spring_layout.drawing.paper import MARGIN
from tests.drawing.reading import of_kind, rings, shape_of, texts, tie_lines


def words_of(drawing):
    return [text.words for text in texts(drawing)]


def assert_legible(drawing):
    """Text is high enough, on the sheet, and no text lies on another."""
    written = texts(drawing)
    assert all(text.size >= font_size(LEAST_HEIGHT) - 1e-9 for text in written)
    shapes = [shape_of(text) for text in written]
    sheet = shapely.box(MARGIN, MARGIN, drawing.width - MARGIN, drawing.height - MARGIN)
    outside = [t.words for t, s in zip(written, shapes, strict=True) if not sheet.covers(s)]
    assert outside == []
    first, second = shapely.STRtree(shapes).query(shapes, predicate="intersects")
    pairs = zip(first.tolist(), second.tolist(), strict=True)
    assert [(written[a].words, written[b].words) for a, b in pairs if a < b] == []


def assert_labels_keep_clear(drawing):
    """Springs' labels and rails' names touch no tie, ring or knot; nor do the tack labels."""
    ties = tie_lines(drawing)
    circles = [
        shapely.Point(r.x, r.y).buffer(r.radius, quad_segs=64).exterior for r in rings(drawing)
    ]
    tree = shapely.STRtree([*ties, *circles])
    for kind in ("spring-label", "tie-number", "distance", "rail-name"):
        for text in of_kind(drawing, kind):
            near = tree.query(shape_of(text), predicate="dwithin", distance=0.1)
            assert len(near) == 0, text.words
