"""How well one colour stands out on another, as the web's accessibility guidelines measure it.

Source: W3C, *Web Content Accessibility Guidelines 2.1*, definitions of relative luminance and
contrast ratio; success criteria 1.4.3 (text 4.5 : 1) and 1.4.11 (symbols 3 : 1).
"""


def luminance(colour: str) -> float:
    """The relative luminance (0 black to 1 white) of ``colour``, ``#RRGGBB``."""
    red, green, blue = (_linear(int(colour[i : i + 2], 16) / 255) for i in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """The contrast ratio of two colours, 1 to 21."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def _linear(channel: float) -> float:
    return channel / 12.92 if channel <= 0.04045 else ((channel + 0.055) / 1.055) ** 2.4
