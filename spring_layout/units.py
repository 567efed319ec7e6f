"""Lengths as people write them. Inside the program every length is in millimetres.

``parse_length`` reads what somebody types at the bench; ``format_length`` shows a length as a
tradesman would: places and gaps to 1/8 in or 1 mm, twine and webbing rounded up to 1/2 in or
10 mm. The inch is 25.4 mm exactly (international yard and pound agreement of 1959).
"""

import math
import re
import unicodedata
from fractions import Fraction
from typing import Literal

Units = Literal["in", "mm"]
Kind = Literal["place", "cut", "exact", "wire"]

MM_PER_INCH = 25.4

_MM_PER_UNIT = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": MM_PER_INCH, "ft": 12 * MM_PER_INCH}

_UNIT_WORDS = {
    "mm": "mm millimetre millimetres millimeter millimeters",
    "cm": "cm centimetre centimetres centimeter centimeters",
    "m": "m metre metres meter meters",
    "in": "in in. ins inch inches \" ″ ” '' ′′ ’’",
    "ft": "ft ft. foot feet ' ′ ’",
}
_UNIT_OF_WORD = {word: unit for unit, words in _UNIT_WORDS.items() for word in words.split()}

_STEPS_MM: dict[Kind, dict[Units, float]] = {
    "place": {"in": MM_PER_INCH / 8, "mm": 1.0},
    "cut": {"in": MM_PER_INCH / 2, "mm": 10.0},
    "exact": {"in": MM_PER_INCH / 16, "mm": 0.1},
    "wire": {"in": MM_PER_INCH / 1000, "mm": 0.01},
}

_NUDGE_MM: dict[Units, float] = {"in": MM_PER_INCH / 16, "mm": 1.0}

_DECIMALS = {"exact": 1, "wire": 2}

_WORD_PATTERN = "|".join(re.escape(word) for word in sorted(_UNIT_OF_WORD, key=len, reverse=True))
_NUMBER_PATTERN = r"\d+[ -]+\d+ */ *\d+|\d+ */ *\d+|\d+[.,]\d*|[.,]\d+|\d+"
_PIECE = re.compile(rf"\s*({_NUMBER_PATTERN})\s*({_WORD_PATTERN})?(?![a-z])\s*")

_THOUSANDS = re.compile(r"[1-9]\d{0,2},\d{3}")

_LONGEST_MM = 1e6
_LONGEST_TEXT = 60

_EXAMPLES = 'write it like 22 1/2 in, 5-1/2" or 57.2 cm'


class LengthError(ValueError):
    """A text that is no length; the message is one sentence with the mend."""


def parse_length(text: str, default_unit: str = "mm") -> float:
    """The length that ``text`` says, mm; a number without a unit is in ``default_unit``.

    Reads fractions ("22 1/2", "22-1/2 in", "1/16", "⅜"), decimals with a point or a comma, feet
    with inches (``1' 10 1/2"``), mm, cm and m, and a leading sign. ``default_unit`` is one of
    mm, cm, m, in, ft. Raises LengthError.
    """
    plain = _plain(text)
    if not plain:
        raise LengthError(f"A length is missing; {_EXAMPLES}.")
    sign = -1.0 if plain.startswith("-") else 1.0
    pieces = _pieces(plain[1:] if plain[0] in "+-" else plain, text)
    length = round(_sum_mm(pieces, default_unit, text), 6)
    if length > _LONGEST_MM:
        raise LengthError(f"“{_shown(text)}” is longer than a kilometre; {_EXAMPLES}.")
    return sign * length + 0.0


def _plain(text: str) -> str:
    """``text`` in lower case with plain minus, slash and fractions."""
    text = text.replace("−", "-").replace("–", "-").replace("⁄", "/")
    return "".join(_spelled(c) for c in text).strip().lower()


def _spelled(character: str) -> str:
    """A fraction glyph written out with a space before it; anything else as it is."""
    spelled = unicodedata.normalize("NFKC", character)
    return " " + spelled.replace("⁄", "/") if "⁄" in spelled else character


def _pieces(plain: str, text: str) -> list[tuple[str, str]]:
    """(number, unit or "") of each part of ``plain``."""
    pieces, at = [], 0
    while at < len(plain):
        match = _PIECE.match(plain, at)
        if match is None or len(plain) > _LONGEST_TEXT:
            raise LengthError(f"“{_shown(text)}” is not a length; {_EXAMPLES}.")
        pieces.append((match[1], _UNIT_OF_WORD.get(match[2], "")))
        at = match.end()
    if not pieces:
        raise LengthError(f"“{_shown(text)}” is not a length; {_EXAMPLES}.")
    return pieces


def _sum_mm(pieces: list[tuple[str, str]], default_unit: str, text: str) -> float:
    """One number, or feet followed by inches, mm."""
    (number, unit), *rest = pieces
    total = _value(number, text) * _MM_PER_UNIT[unit or default_unit]
    if not rest:
        return total
    (inches, inch_unit), *more = rest
    if more or unit != "ft" or inch_unit not in ("", "in"):
        raise LengthError(
            f"“{_shown(text)}” holds more than one length; write one, or feet and inches."
        )
    return total + _value(inches, text) * MM_PER_INCH


def _value(number: str, text: str) -> float:
    """The value of "22 1/2", "22-1/2", "1/16", "22.5" or "22,5"."""
    if "/" not in number:
        return _decimal_value(number, text)
    whole, top, bottom = re.fullmatch(r"(?:(\d+)[ -]+)?(\d+) */ *(\d+)", number).groups("0")  # type: ignore[union-attr]  # the pattern of the piece has the same form
    if int(bottom) == 0:
        raise LengthError(f"“{_shown(text)}” divides by nothing; write a fraction like 1/2.")
    return float(int(whole) + Fraction(int(top), int(bottom)))


def _decimal_value(number: str, text: str) -> float:
    """The value of a decimal; a comma that may mean thousands is not guessed at."""
    if _THOUSANDS.fullmatch(number):
        raise LengthError(
            f"“{_shown(text)}” can be read in two ways; write {number.replace(',', '')} or "
            f"{number.replace(',', '.')}."
        )
    return float(number.replace(",", "."))


def _shown(text: str) -> str:
    """``text`` short enough for a sentence."""
    text = " ".join(text.split())
    return text if len(text) <= 30 else text[:29] + "…"


def step_mm(units: Units, kind: Kind = "place") -> float:
    """The step to which ``format_length`` rounds lengths of this kind, mm."""
    return _STEPS_MM[kind][units]


def nudge_mm(units: Units) -> float:
    """How far one press of an arrow key moves a spring: 1/16 in or 1 mm, in mm."""
    return _NUDGE_MM[units]


def in_steps(mm: float, units: Units, kind: Kind = "place") -> int:
    """``mm`` as a whole number of steps: to the nearest (half away from 0); "cut" rounds up."""
    steps = mm / step_mm(units, kind)
    # 1e-6 of a step forgives the last digits of a sum, so that 12.7 mm stays 1/2 in
    if kind == "cut":
        return math.ceil(steps - 1e-6)
    return int(math.copysign(math.floor(abs(steps) + 0.5 + 1e-6), steps))


def format_length(
    mm: float, units: Units, kind: Kind = "place", *, unit: bool = True, point: str = "."
) -> str:
    """``mm`` as text: "22 1/2 in", "572 mm"; without the unit where ``unit`` is false.

    ``kind``: "place" for places and gaps (nearest 1/8 in or 1 mm), "cut" for twine and webbing
    (rounded up to 1/2 in or 10 mm), "exact" (nearest 1/16 in or 0.1 mm), "wire" (nearest
    0.001 in or 0.01 mm). ``point`` is the decimal sign.
    """
    steps = in_steps(mm, units, kind)
    if units == "mm" or kind == "wire":
        number = _decimal(steps, units, kind).replace(".", point)
    else:
        number = _mixed(Fraction(steps, round(MM_PER_INCH / step_mm(units, kind))))
    return f"{number} {units}" if unit else number


def about(mm: float, units: Units, *, down: bool = False) -> str:
    """A long length that nobody measures closely, to the nearest half foot or tenth of a metre.

    What is less than 2 ft or half a metre (mm: ``mm``) is told as a length is. With ``down`` it is
    rounded down, for what there is to cut from.
    """
    step = 6 * MM_PER_INCH if units == "in" else 100.0
    if down and mm >= (2 * _MM_PER_UNIT["ft"] if units == "in" else 500):
        mm = step * math.floor(mm / step + 1e-6)
    if units == "mm":
        return format_length(mm, units) if mm < 500 else f"{round(mm / step) / 10:g} m"
    feet = Fraction(round(mm / step), 2)
    return format_length(mm, units) if feet < 2 else f"{_mixed(feet)} ft"


def held_by(mm: float, units: Units) -> str:
    """What a hank of that length holds: all whole steps of a cut, told in feet or in metres.

    Inches where it is not whole half feet: "30 ft", "111 in", "12.34 m".
    """
    steps = whole_steps(mm, units)
    if units == "mm":
        return format_length(10 * steps, units) if steps < 50 else f"{steps / 100:g} m"
    feet = Fraction(steps, 24)
    halves = feet >= 2 and (2 * feet).denominator == 1
    return f"{_mixed(feet)} ft" if halves else f"{_mixed(Fraction(steps, 2))} in"


def whole_steps(mm: float, units: Units) -> int:
    """How many whole steps of a cut (1/2 in, 10 mm) there are in ``mm``."""
    return math.floor(mm / step_mm(units, "cut") + 1e-6)


def unbroken(text: str) -> str:
    """``text`` with no-break spaces inside its lengths, so that no line ends within "1 1/2 in".

    Whatever breaks text into lines breaks this, and then puts ordinary spaces back with
    ``with_plain_spaces`` if it writes for a terminal or a sheet of paper.
    """
    return _INSIDE.sub(NO_BREAK, text)


def with_plain_spaces(text: str) -> str:
    """``text`` with ordinary spaces where ``unbroken`` put no-break ones."""
    return text.replace(NO_BREAK, " ")


NO_BREAK = "\u00a0"
_INSIDE = re.compile(
    r"(?<=\d) (?=\d+/\d)|(?<=\d) (?=(?:in|ft|mm|cm|m|oz|degrees|square (?:inches|cm))\b)"
    r"|(?<=square) (?=(?:inches|cm)\b)|(?<=\bSWG) (?=\d)|(?<=W&M) (?=\d)"
)


def _decimal(steps: int, units: Units, kind: Kind) -> str:
    if units == "in":
        return f"{steps / 1000:.3f}"
    text = f"{steps * step_mm(units, kind):.{_DECIMALS.get(kind, 0)}f}"
    return text.removesuffix(".0")


def _mixed(inches: Fraction) -> str:
    """A fraction as "22 1/2", "-3/8" or "4"."""
    sign = "-" if inches < 0 else ""
    whole, rest = divmod(abs(inches), 1)
    if not rest:
        return f"{sign}{whole}"
    return f"{sign}{whole} {rest}" if whole else f"{sign}{rest}"
