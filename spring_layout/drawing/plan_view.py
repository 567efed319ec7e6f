"""The deck in plan, to scale: frame, webbing, springs, ties, cross knots, labels.

Each is a group of that name. Springs and ties carry their ids and their particulars, so that the
picture can be looked things up in.
"""

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
    Place,
    Stroke,
    Tag,
    polyline,
)
from spring_layout.drawing.rail_labels import rail_labels
from spring_layout.drawing.rails import frame_items, rail_shapes
from spring_layout.drawing.spring_labels import place_spring_labels, tie_segments
from spring_layout.drawing.tacks import Manner, TackLabels
from spring_layout.drawing.view import View
from spring_layout.planning.parts import Crossing, Line, Parts

_BAR = 2.6
"""Length of the bar across a tie's end, mm."""


@dataclass(frozen=True)
class Labelled:
    """The labels of a plan view, placed: of the springs, and of the tack points.

    ``height``: of the springs' labels; ``springs``: a place each or None where there was no room;
    ``tacks``: None where the rails have no room for them.
    """

    height: float
    springs: tuple[Chosen | None, ...]
    manner: Manner
    tacks: tuple[TackLabels, ...] | None


def plan_view(parts: Parts, view: View, labelled: Labelled) -> list[Group]:
    """The groups of the plan view in painting order."""
    deck, outline = parts.deck, parts.standing.outline
    return [
        Group(tuple(frame_items(deck.frame, outline, view)), Tag(id="frame")),
        Group((), Tag(id="webbing")),
        Group(tuple(_springs(parts, view)), Tag(id="springs")),
        Group(tuple(_ties(parts, view)), Tag(id="ties")),
        Group(tuple(_knots(parts, view)), Tag(id="crossings")),
        Group(tuple(_labels(parts, view, labelled)), Tag(id="labels")),
    ]


def label_springs(parts: Parts, view: View) -> tuple[float, tuple[Chosen | None, ...]]:
    """The springs' labels in the larger lettering if that holds them all, else in the least."""
    for height in (look.NORMAL, look.SMALL):
        chosen = place_spring_labels(parts, view, height)
        if all(place is not None and place.leader is None for place in chosen):
            return height, tuple(chosen)
    return look.SMALL, tuple(chosen)


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


def _ties(parts: Parts, view: View) -> list[Item]:
    """The ties in tying order: a later one passes over the earlier ones, which break off there."""
    items: list[Item] = []
    for line in parts.ties.lines:
        items += _tie(line, parts, view)
    return items


def _tie(line: Line, parts: Parts, view: View) -> list[Item]:
    stroke = look.RUN_LOOKS[line.run].stroke
    steps = view.polyline(line.path)
    names = " ".join(parts.labels[name] for name in line.springs)
    tag = Tag(
        id=f"line-{line.number}",
        kind="tie",
        title=f"Tie {line.number}, {look.RUN_LOOKS[line.run].words}: {names}",
        data=(("run", line.run),),
    )
    halo = Stroke(look.PAPER, stroke.width + look.HALO)
    bars = [_bar(line, end, view) for end in (0, -1) if line.anchors[end]]
    return [Path(steps, halo), Path(steps, stroke, tag=tag), *bars]


def _bar(line: Line, end: int, view: View) -> Path:
    """The tack point: a short bar across the tie's end."""
    here = np.array(view.place(line.path[end]))
    there = np.array(view.place(line.path[1 if end == 0 else -2]))
    way = (here - there) / max(float(np.hypot(*(here - there))), 1e-9)
    across = np.array([-way[1], way[0]]) * _BAR / 2
    ends: list[Place] = [(float(x), float(y)) for x, y in (here - across, here + across)]
    return Path(polyline(ends), look.TACK_BAR, tag=Tag(kind="tack"))


def bar_sample(place: Place) -> list[Item]:
    """A tack point at a tie's end, for the key."""
    x, y = place
    tie = Path(polyline(((x - 4, y), (x, y))), look.RUN_LOOKS["front-to-back"].stroke)
    return [tie, Path(polyline(((x, y - _BAR / 2), (x, y + _BAR / 2))), look.TACK_BAR)]


def _knots(parts: Parts, view: View) -> list[Item]:
    return [knot(view.place(crossing.place), crossing) for crossing in parts.ties.crossings]


def knot(place: Place, crossing: Crossing | None = None, at_spring: bool = False) -> Path:
    """A cross knot's diamond: filled at a spring, open between springs."""
    x, y = place
    half = look.KNOT_HALF
    steps = polyline(((x, y - half), (x + half, y), (x, y + half), (x - half, y)), closed=True)
    if crossing is None:
        return Path(steps, look.KNOT_EDGE, look.INK if at_spring else look.PAPER)
    lines = " ".join(str(number) for number in crossing.lines)
    data = (("lines", lines), ("tied-by", str(crossing.tied_by)))
    fill = look.INK if crossing.spring else look.PAPER
    return Path(steps, look.KNOT_EDGE, fill, Tag(kind="crossing", data=data))


def _labels(parts: Parts, view: View, labelled: Labelled) -> list[Item]:
    items: list[Item] = []
    for tacks in labelled.tacks or ():
        items += tacks.items
    for name, chosen in zip(parts.standing.ids, labelled.springs, strict=True):
        if chosen:
            items += _spring_label(parts.labels[name], chosen, labelled.height)
    rows = labelled.tacks or ()
    taken = [shape for row in rows for shape in (*row.shapes, *row.leaders)]
    return items + rail_labels(parts, view, [*taken, *tie_segments(parts, view)])


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
