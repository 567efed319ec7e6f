"""Which plain shape a frame is, and its measurements as they would be taken at the bench.

The way back from ``shapes``: what a frame was made of can be written down again and changed. A
frame that is no plain shape is told as the one that comes nearest to it.
"""

import math
from collections.abc import Callable, Iterator, Mapping

import msgspec

from spring_layout.deck import shapes
from spring_layout.deck.model import Frame, Side

SAME_MM = 0.05
"""mm; coordinates rounded to 0.001 mm make up the same shape, a hand's nudge does not."""

Measures = dict[str, float]


def plain_shape_of(frame: Frame) -> tuple[str, Measures]:
    """The plain shape that ``frame`` is or comes nearest to, and its measurements, mm.

    The name is one of straight, tapered, bowed, round, notched, measured; the measurements are
    the arguments of that shape's maker in ``shapes``.
    """
    for turned in _turns(frame):
        for name, take, make in _SHAPES:
            measures = take(turned)
            if measures is not None and _makes(make, measures, turned):
                return name, measures
    if len(frame.corners) == 4 and not any(side.bow for side in frame.sides):
        return "measured", _six(_from_back(frame))
    return _nearest(frame)


def put_in_place(made: Frame, before: Frame) -> Frame:
    """``made`` where ``before`` stands: backs level and middles over each other, rails as broad
    and as high; what each side had of its own stays where the sides are the same ones."""
    (x0, y0, x1, _), (left, back, right, _) = _box(before), _box(made)
    across, down = (x0 + x1 - left - right) / 2, y0 - back
    rails = [side.rail for side in before.sides]
    turn = rails.index(made.sides[0].rail) if made.sides[0].rail in rails else 0
    own = before.sides[turn:] + before.sides[:turn]
    same = [side.rail for side in own] == [side.rail for side in made.sides]
    return msgspec.structs.replace(
        made,
        corners=tuple((x + across, y + down) for x, y in made.corners),
        sides=tuple(map(_with_bow, own, made.sides)) if same else made.sides,
        rail_width=before.rail_width,
        rail_top=before.rail_top,
    )


def _with_bow(own: Side, made: Side) -> Side:
    return msgspec.structs.replace(own, bow=made.bow)


def _turns(frame: Frame) -> Iterator[Frame]:
    """The frame begun at each of its corners."""
    for i in range(len(frame.corners)):
        yield _begun_at(frame, i)


def _begun_at(frame: Frame, corner: int) -> Frame:
    return msgspec.structs.replace(
        frame,
        corners=frame.corners[corner:] + frame.corners[:corner],
        sides=frame.sides[corner:] + frame.sides[:corner],
    )


def _from_back(frame: Frame) -> Frame:
    backs = [i for i, side in enumerate(frame.sides) if side.rail == "back"]
    return _begun_at(frame, backs[0] if backs else 0)


def _makes(make: Callable[..., Frame], measures: Mapping[str, float], frame: Frame) -> bool:
    """Whether the measurements make this very frame, wherever it stands."""
    try:
        made = make(**measures)
    except ValueError:
        return False
    if len(made.corners) != len(frame.corners):
        return False
    (x, y), (from_x, from_y) = frame.corners[0], made.corners[0]
    moved = ((px + x - from_x, py + y - from_y) for px, py in made.corners)
    apart = max(map(math.dist, moved, frame.corners))
    bows = max(abs(a.bow - b.bow) for a, b in zip(made.sides, frame.sides, strict=True))
    return max(apart, bows) <= SAME_MM


def _chord(frame: Frame, side: int) -> float:
    corners = frame.corners
    return _tidy(math.dist(corners[side], corners[(side + 1) % len(corners)]))


def _tidy(mm: float) -> float:
    """To 0.001 mm, as coordinates are kept: a square root leaves more figures than were drawn."""
    return round(mm, 3)


def _square(frame: Frame) -> Measures | None:
    if len(frame.corners) != 4:
        return None
    return {"width": _chord(frame, 0), "depth": _chord(frame, 1)}


def _tapered(frame: Frame) -> Measures | None:
    if len(frame.corners) != 4:
        return None
    depth = _tidy(frame.corners[2][1] - frame.corners[1][1])
    return {"back": _chord(frame, 0), "front": _chord(frame, 2), "depth": depth}


def _bowed(frame: Frame) -> Measures | None:
    tapered = _tapered(frame)
    return None if tapered is None else {**tapered, "front_bow": frame.sides[2].bow}


def _round(frame: Frame) -> Measures | None:
    return {"diameter": _chord(frame, 0)} if len(frame.corners) == 2 else None


def _notched(frame: Frame) -> Measures | None:
    """A frame notched at the front; the front's width is where the sides would meet it."""
    if len(frame.corners) != 8:
        return None
    back, depth = _chord(frame, 0), frame.corners[4][1] - frame.corners[0][1]
    notch = frame.corners[2][1] - frame.corners[0][1]
    if notch <= 0:
        return None
    across = frame.corners[2][0] - frame.corners[7][0]
    front = back + (across - back) * depth / notch
    return {
        "back": back,
        "front": _tidy(front),
        "depth": _tidy(depth),
        "notch_width": _tidy((front - _chord(frame, 4)) / 2),
        "notch_depth": _tidy(depth - notch),
    }


def _six(frame: Frame) -> Measures:
    back, right, front, left = (_chord(frame, i) for i in range(4))
    first, second, third, fourth = frame.corners
    return {
        "back": back,
        "right": right,
        "front": front,
        "left": left,
        "rising": _tidy(math.dist(fourth, second)),
        "falling": _tidy(math.dist(first, third)),
    }


_SHAPES: tuple[tuple[str, Callable[[Frame], Measures | None], Callable[..., Frame]], ...] = (
    ("straight", _square, shapes.straight_frame),
    ("tapered", _tapered, shapes.tapered_frame),
    ("bowed", _bowed, shapes.bowed_frame),
    ("round", _round, shapes.round_frame),
    ("notched", _notched, shapes.notched_frame),
)


def _nearest(frame: Frame) -> tuple[str, Measures]:
    """Back, front and depth, with the bow of the front where it has one."""
    x0, y0, x1, y1 = _box(frame)
    chords = {
        rail: max(
            (_chord(frame, i) for i, side in enumerate(frame.sides) if side.rail == rail),
            default=x1 - x0,
        )
        for rail in ("back", "front")
    }
    measures = {**chords, "depth": _tidy(max(y1 - y0, 1.0))}
    bow = max((side.bow for side in frame.sides if side.rail == "front"), default=0.0)
    is_round = len(frame.corners) < 4
    if bow > 0 and not is_round:
        return "bowed", {**measures, "front_bow": bow}
    return "tapered", measures


def _box(frame: Frame) -> tuple[float, float, float, float]:
    """Left, back, right and front of what the corners and half circles span, mm."""
    from spring_layout.deck.opening import outline_of  # numpy and shapely, only where needed

    if len(frame.corners) < 4:
        x0, y0, x1, y1 = outline_of(frame).bounds
        return float(x0), float(y0), float(x1), float(y1)
    across, down = zip(*frame.corners, strict=True)
    return min(across), min(down), max(across), max(down)
