"""How the reader refuses a deck file."""

import pytest

from spring_layout.deck.files import DeckFileError, read_deck


def refusal(source) -> DeckFileError:
    """How the reader refuses ``source``; its sentence is checked for form."""
    with pytest.raises(DeckFileError) as refused:
        read_deck(source)
    error = refused.value
    assert error.place.startswith("$")
    assert error.message.endswith(".")
    assert "\n" not in str(error)
    assert len(str(error)) < 300
    return error
