"""Decks to space evenly, and how good their spacing is."""

import msgspec
import numpy as np
from hypothesis import strategies as st

from spring_layout.deck.model import Spring
from spring_layout.planning.placing.measure import Wish, measure
from spring_layout.planning.standing import standing_of
from tests.decks import grid_deck, straight_frame
from tests.placing_frames import FRAMES, frame_named

WISH = Wish(50, 40)


def stand(places, frame=None, held=()):
    """A standing of springs named s0, s1 ... at ``places``."""
    springs = tuple(
        Spring(id=f"s{i}", coil="seat", x=x, y=y, held=i in held) for i, (x, y) in enumerate(places)
    )
    frame = straight_frame() if frame is None else frame
    return standing_of(msgspec.structs.replace(grid_deck(), springs=springs, frame=frame))


def worth(standing, places, wish=WISH):
    return measure(standing.outline, places, standing.radii, wish)


def grid_lines(rows, columns):
    across = [tuple(range(r * columns, (r + 1) * columns)) for r in range(rows)]
    return tuple(across + [tuple(range(c, rows * columns, columns)) for c in range(columns)])


def jittered(standing, amount, seed=1):
    rng = np.random.default_rng(seed)
    places = standing.centres + rng.uniform(-amount, amount, standing.centres.shape)
    return stand(np.round(places, 3), standing.deck.frame)


@st.composite
def standings(draw, most=9):
    """Springs at random in a frame of any kind; rings may overlap and pass the edge."""
    frame = frame_named(draw(st.sampled_from(sorted(FRAMES))))
    count = draw(st.integers(1, most))
    seed = draw(st.integers(0, 10_000))
    outline = standing_of(msgspec.structs.replace(grid_deck(), frame=frame, springs=())).outline
    x0, y0, x1, y1 = outline.bounds
    places = np.random.default_rng(seed).uniform((x0, y0), (x1, y1), (40 * most, 2))
    places = np.round(places[outline.holds(places)][:count], 3)
    return stand(places, frame)


def grid_in(frame, rows, columns):
    """Springs in rows over the middle of a frame, between its left and right."""
    outline = standing_of(msgspec.structs.replace(grid_deck(), frame=frame, springs=())).outline
    x0, y0, x1, y1 = outline.bounds
    x = np.linspace(x0 + (x1 - x0) / 4, x1 - (x1 - x0) / 4, columns)
    y = np.linspace(y0 + (y1 - y0) / 4, y1 - (y1 - y0) / 4, rows)
    return stand([(float(a), float(b)) for b in y for a in x], frame)
