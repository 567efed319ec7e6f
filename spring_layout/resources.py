"""Finds the icons and the sample decks, in an installed wheel and in a checkout."""

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def icons_folder() -> Path:
    """The folder of the program's icons (SVG files)."""
    return _find("icons")


def sample_decks_folder() -> Path:
    """The folder of the sample decks (``NAME.deck.json`` files)."""
    return _find("sample_decks")


def sample_decks() -> list[Path]:
    """The sample decks, sorted by name."""
    return sorted(sample_decks_folder().glob("*.deck.json"))


def _find(name: str) -> Path:
    """The folder ``name`` inside the wheel, else at the top of the checkout."""
    inside = _PACKAGE / f"_{name}"
    return inside if inside.is_dir() else _PACKAGE.parent / name
