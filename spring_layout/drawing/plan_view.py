"""The deck in plan, to scale: frame, webbing, springs, ties, cross knots, labels.

Each is a group of that name. Springs and ties carry their ids and their particulars, so that the
picture can be looked things up in.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely

from spring_layout.deck.model import Coil
from spring_layout.drawing import lettering, look
from spring_layout.drawing.labels import Chosen
from spring_layout.drawing.primitives import (
    Circle,
    Group,
    Item,
    Path,
    Stroke,
    Tag,
    polyline,
)
from spring_layout.drawing.rail_labels import Further, rail_labels
from spring_layout.drawing.rails import frame_items, rail_shapes
from spring_layout.drawing.spring_labels import place_spring_labels, tie_pieces
from spring_layout.drawing.tack_row import Manner, TackLabels
from spring_layout.drawing.tie_view import BAR, knot_items, tie_items
from spring_layout.drawing.view import View
from spring_layout.drawing.webbing_view import webbing_group
from spring_layout.planning.parts import Line, Parts

_USUAL_PITCH, _FINEST = 20.0, 0.5
"""mm of paper from spring to spring, from which on ties and knots are drawn as usual; how much
finer at most where they stand closer."""
_FINE_NORMAL = 0.7
"""No finer than this the springs' labels are tried in normal lettering."""


@dataclass(frozen=True)
class Labelled:
    """The labels of a plan view, placed: of the springs, and of the tack points.

    ``height``: of the springs' labels; ``springs``: a place each or None where there was no room;
    ``tacks``: None where the rails have no room for them. ``further``: how much farther out than
    they must the rails' names stand.
    """

    height: float
    springs: tuple[Chosen | None, ...]
    manner: Manner
    tacks: tuple[TackLabels, ...] | None
    further: Further = (0.0, 0.0)


def plan_view(parts: Parts, view: View, labelled: Labelled) -> list[Group]:
    """The groups of the plan view in painting order."""
    deck, outline = parts.deck, parts.standing.outline
    return [
        webbing_group(parts.webbing, outline, view),
        Group(tuple(frame_items(deck.frame, outline, view)), Tag(id="frame")),
        Group(tuple(_springs(parts, view)), Tag(id="springs")),
        Group(tuple(tie_items(parts, view)), Tag(id="ties")),
        Group(tuple(knot_items(parts, view)), Tag(id="crossings")),
        Group(tuple(_labels(parts, view, labelled)), Tag(id="labels")),
    ]


def label_springs(
    parts: Parts, view: View, least: tuple[Chosen | None, ...] | None = None
) -> tuple[float, tuple[Chosen | None, ...]]:
    """The springs' labels in the largest lettering that holds them all, else in the least.

    ``least``: the places in the least lettering, where they are known already. Where more than
    half find no place even so, none is written: a few here and there help nobody.
    """
    if least is None:
        least = tuple(place_spring_labels(parts, view, look.SMALL))
    if all(map(_is_plain, least)):
        for height, fine in ((look.LARGE, 1.0), (look.NORMAL, _FINE_NORMAL)):
            if view.fine >= fine:
                chosen = tuple(place_spring_labels(parts, view, height))
                if all(map(_is_plain, chosen)):
                    return height, chosen
    if sum(place is None for place in least) > len(least) / 2:
        return look.SMALL, (None,) * len(least)
    return look.SMALL, least


def _is_plain(place: Chosen | None) -> bool:
    """Whether a label has a place without a leader."""
    return place is not None and place.leader is None


def fineness(parts: Parts, scale: float) -> float:
    """How much finer than usual ties and knots are drawn at 1 : ``scale``; 1 is as usual."""
    spaces = parts.spaces
    if not len(spaces.neighbours):
        return 1.0
    first, second = parts.standing.centres[spaces.neighbours.T]
    pitch = float(np.median(np.hypot(*(first - second).T))) / scale
    return min(1.0, max(_FINEST, pitch / _USUAL_PITCH))


def _springs(parts: Parts, view: View) -> list[Item]:
    items: list[Item] = []
    for spring in parts.deck.springs:
        coil = parts.deck.coil_of(spring)
        x, y = view.place((spring.x, spring.y))
        title = f"Spring {parts.labels[spring.id]}"
        tag = Tag(id=f"spring-{spring.id}", kind="spring", title=title)
        items += _faint_rings(coil, x, y, view)
        items.append(Circle(x, y, view.length(coil.top_radius), look.TOP_RING, tag=tag))
    return items


def _faint_rings(coil: Coil, x: float, y: float, view: View) -> list[Item]:
    """Foot and waist as hairlines, the top coil's wire as a soft ring of its own width."""
    wire = view.length(coil.wire)
    items: list[Item] = [
        Circle(x, y, view.length(coil.foot_diameter / 2), look.FAINT_RING),
        Circle(x, y, view.length(coil.waist_diameter / 2), look.FAINT_RING),
    ]
    middle = view.length(coil.top_radius) - wire / 2
    if middle > 0:
        items.append(Circle(x, y, middle, Stroke(look.STEEL, wire)))
    return items


def outer_labels(
    parts: Parts, view: View, tacks: Sequence[TackLabels], further: Further = (0.0, 0.0)
) -> list[Item]:
    """The labels of the tack points, then the rails' names and centre marks clear of them."""
    taken = [shape for row in tacks for shape in (*row.shapes, *row.leaders)]
    taken += [_anchor_shape(line, view) for line in parts.ties.lines]
    taken += shapely.linestrings(tie_pieces(parts, view)).tolist()
    items = [item for row in tacks for item in row.items]
    return items + rail_labels(parts, view, taken, further)


def _labels(parts: Parts, view: View, labelled: Labelled) -> list[Item]:
    items: list[Item] = []
    for name, chosen in zip(parts.standing.ids, labelled.springs, strict=True):
        if chosen:
            items += _spring_label(parts.labels[name], chosen, labelled.height)
    return items + outer_labels(parts, view, labelled.tacks or (), labelled.further)


def _anchor_shape(line: Line, view: View) -> shapely.Geometry:
    """What the bars at a tie's ends cover, on the paper."""
    places = [view.place(anchor) for anchor in line.anchors if anchor]
    return shapely.MultiPoint(places).buffer(BAR / 2)


def _spring_label(words: str, chosen: Chosen, height: float) -> list[Item]:
    x, y = chosen.middle
    text = lettering.lettered(
        (x, y + height / 2),
        words,
        height,
        look.INK,
        anchor="middle",
        weight="bold",
        tag=Tag(kind="spring-label"),
    )
    if chosen.leader:
        return [Path(polyline(chosen.leader), look.HAIRLINE), text]
    return [text]


def deck_bounds(parts: Parts) -> tuple[float, float, float, float]:
    """Least x, least y, most x, most y of the frame with its rails, deck mm."""
    outline = parts.standing.outline
    shapes = list(rail_shapes(parts.deck.frame, outline).values())
    x0, y0, x1, y1 = shapely.total_bounds([outline.polygon, *shapes])
    return float(x0), float(y0), float(x1), float(y1)
