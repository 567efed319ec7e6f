"""Random sound decks of every shape, and random things to say of them."""

from hypothesis import strategies as st

from spring_layout.deck.model import (
    RUNS,
    Deck,
    Limits,
    MovedAnchor,
    Pairing,
    Seat,
    Spacing,
    Spring,
    Twine,
    Tying,
    Webbing,
)
from spring_layout.deck.shapes import (
    bowed_frame,
    notched_frame,
    round_frame,
    straight_frame,
    tapered_frame,
)
from spring_layout.deck.validate import anchor_key, pair_key
from tests.decks import SEAT_COIL

WIDTHS = st.integers(300, 700)
LENGTHS = st.integers(1, 4000).map(lambda tenths: tenths / 10)

JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats(allow_nan=False, allow_infinity=False)
    # halves of characters cannot be saved
    | st.text(st.characters(exclude_categories=["Cs"]), max_size=8),
    lambda inner: (
        st.lists(inner, max_size=3)
        | st.dictionaries(
            st.text(st.characters(exclude_categories=["Cs"]), max_size=8), inner, max_size=3
        )
    ),
    max_leaves=8,
)


@st.composite
def frames(draw):
    shape = draw(st.sampled_from(["straight", "tapered", "bowed", "round", "notched"]))
    back, front, depth = draw(WIDTHS), draw(WIDTHS), draw(WIDTHS)
    if shape == "straight":
        return straight_frame(back, depth)
    if shape == "tapered":
        return tapered_frame(back, front, depth)
    if shape == "bowed":
        return bowed_frame(back, front, depth, front_bow=draw(st.integers(-30, 60)))
    if shape == "round":
        return round_frame(back)
    return notched_frame(
        back, back, depth, back / 10, depth / 10, at=draw(st.sampled_from(["front", "back"]))
    )


@st.composite
def springs_in(draw, frame, most=9):
    """Springs well inside any frame of ``frames``; they may overlap."""
    xs, ys = zip(*frame.corners, strict=True)
    middle = (min(xs) + max(xs)) / 2
    low, high = min(ys), max(ys)
    if len(ys) == 2:
        low, high = low - (max(xs) - middle), high + (max(xs) - middle)
    narrow = 100 if len(ys) > 2 else (high - low) * 0.3
    share = st.floats(0.2, 0.8)
    places = draw(
        st.lists(
            st.tuples(st.floats(-1, 1), share),
            min_size=min(3, most) * draw(st.integers(0, 1)),
            max_size=most,
        )
    )
    return tuple(
        Spring(
            id=f"s{i}",
            coil="seat",
            x=middle + across * narrow,
            y=low + (high - low) * down,
            held=draw(st.booleans()),
            turned=draw(st.integers(0, 359)),
        )
        for i, (across, down) in enumerate(places)
    )


@st.composite
def tyings(draw, frame, springs):
    return Tying(
        front_to_back=draw(st.booleans()),
        side_to_side=draw(st.booleans()),
        diagonals=draw(st.sampled_from(["all", "two-or-more", "none"])),
        tied_height=draw(LENGTHS),
        crown=draw(LENGTHS),
        tied_height_back=draw(st.none() | LENGTHS),
        order=draw(st.sampled_from(["balanced", "by-direction"])),
        rim_ring=draw(st.sampled_from(["nearest-rail-top", "ring-2", "ring-3", "top"])),
        **draw(pairings(springs)),
        anchors=draw(anchors(frame, springs)),
    )


@st.composite
def pairings(draw, springs):
    if len(springs) < 2:
        return {}
    pair = st.lists(st.sampled_from(springs), min_size=2, max_size=2, unique=True)
    some = st.builds(
        lambda run, two: Pairing(run=run, springs=(two[0].id, two[1].id)),
        st.sampled_from(RUNS),
        pair,
    )
    drawn = draw(st.lists(some, max_size=4, unique_by=pair_key))
    cut = draw(st.integers(0, len(drawn)))
    return {"joins": tuple(drawn[:cut]), "parts": tuple(drawn[cut:])}


@st.composite
def anchors(draw, frame, springs):
    if not springs:
        return ()
    one = st.builds(
        MovedAnchor,
        run=st.sampled_from(RUNS),
        spring=st.sampled_from([s.id for s in springs]),
        end=st.sampled_from(["start", "finish"]),
        side=st.integers(0, len(frame.sides) - 1),
        along=st.integers(0, 20).map(float),
    )
    return tuple(draw(st.lists(one, max_size=4, unique_by=anchor_key)))


SPACINGS = st.builds(
    Spacing,
    gap=LENGTHS,
    clearance=LENGTHS,
    limits=st.builds(Limits, gap_most=LENGTHS, squeeze_most=st.floats(0, 1)),
)
TWINES = st.builds(
    Twine,
    diameter=LENGTHS,
    rule=st.sampled_from(["over-springs-3", "single-1.67", "doubled-4"]),
    hitch=st.sampled_from(["clove", "half", "overhand"]),
    tail_wraps=st.integers(0, 5),
    return_tie=st.booleans(),
)
SEATS = st.builds(Seat, finished_height=st.none() | LENGTHS, cushion=LENGTHS)
WEBBINGS = st.builds(
    Webbing,
    school=st.sampled_from(["us", "uk", "fr"]),
    front_to_back=st.none() | st.lists(LENGTHS, max_size=4).map(tuple),
)
NAMES = st.text(st.characters(categories=["L", "N", "P", "Zs"]), max_size=20)


@st.composite
def decks(draw, most=9):
    """A sound deck with everything in it that its file can hold."""
    frame = draw(frames())
    springs = draw(springs_in(frame, most))
    return Deck(
        name=draw(NAMES),
        note=draw(NAMES),
        units=draw(st.sampled_from(["in", "mm"])),
        frame=frame,
        coils=(SEAT_COIL,),
        springs=springs,
        tying=draw(tyings(frame, springs)),
        spacing=draw(SPACINGS),
        twine=draw(TWINES),
        seat=draw(SEATS),
        webbing=draw(WEBBINGS),
    )
