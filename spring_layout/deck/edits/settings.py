"""Edits of the deck's name and of its settings: spacing, limits, twine, seat, webbing, tying."""

from collections.abc import Sequence

from spring_layout.deck.edits.common import changed, checked
from spring_layout.deck.model import Deck, Limits, Units
from spring_layout.deck.ranges import shown

_STRIPS = {"front-to-back": "front_to_back", "side-to-side": "side_to_side"}


def set_name(deck: Deck, name: str) -> Deck:
    """The deck under another name."""
    return checked(changed(deck, name=name))


def set_note(deck: Deck, note: str) -> Deck:
    """The deck with another note."""
    return checked(changed(deck, note=note))


def set_units(deck: Deck, units: Units) -> Deck:
    """The deck shown in inches ("in") or millimetres ("mm"); no length changes."""
    return checked(changed(deck, units=units))


def set_spacing(deck: Deck, **fields: object) -> Deck:
    """Other wished distances, mm: ``gap``, ``clearance``; 0 leaves a wish out."""
    return checked(changed(deck, spacing=changed(deck.spacing, **fields)))


def set_limits(deck: Deck, **fields: object) -> Deck:
    """Other limits of the checks, in the units that the model names."""
    return set_spacing(deck, limits=changed(deck.spacing.limits, **fields))


def reset_limits(deck: Deck) -> Deck:
    """The limits back at their defaults; keys of a newer program stay."""
    return set_spacing(deck, limits=Limits(extra=deck.spacing.limits.extra))


def set_twine(deck: Deck, **fields: object) -> Deck:
    """Other settings of the spring twine."""
    return checked(changed(deck, twine=changed(deck.twine, **fields)))


def set_seat(deck: Deck, **fields: object) -> Deck:
    """Other measurements of the finished seat, mm; None is not decided."""
    return checked(changed(deck, seat=changed(deck.seat, **fields)))


def set_webbing(deck: Deck, **fields: object) -> Deck:
    """Other settings of the webbing."""
    return checked(changed(deck, webbing=changed(deck.webbing, **fields)))


def set_stitching(deck: Deck, **fields: object) -> Deck:
    """Other settings of the sewing-in: stitches and loops a foot, the twine, its length."""
    return checked(changed(deck, stitching=changed(deck.stitching, **fields)))


def set_work(deck: Deck, **fields: object) -> Deck:
    """How long the user takes, minutes; None gives no estimate."""
    return checked(changed(deck, work=changed(deck.work, **fields)))


def set_tying(deck: Deck, **fields: object) -> Deck:
    """Other settings of the tying: runs, heights, order, rim ring."""
    return checked(changed(deck, tying=changed(deck.tying, **fields)))


def set_strips(deck: Deck, run: str, middles: Sequence[float] | None) -> Deck:
    """The webbing strips of ``run`` with their middles at ``middles``, mm; None: worked out."""
    return set_webbing(deck, **{_strips_field(run): middles})


def move_strip(deck: Deck, run: str, number: int, to: float) -> Deck:
    """Strip ``number`` (from 0) of ``run`` with its middle at ``to``, mm."""
    strips = getattr(deck.webbing, _strips_field(run))
    if strips is None or not 0 <= number < len(strips):
        raise ValueError(f"There is no strip {number + 1} {run}; place the strips by hand first.")
    return set_strips(deck, run, (*strips[:number], to, *strips[number + 1 :]))


def _strips_field(run: str) -> str:
    if run not in _STRIPS:
        raise ValueError(f"Webbing runs front to back or side to side, not {shown(run)}.")
    return _STRIPS[run]
