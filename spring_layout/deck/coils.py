"""Spring sizes: wire gauges, their system always named, and a short list to start from.

Number nine is not one wire: nine in the American table is 12 % stiffer than nine in the British
one, because stiffness goes by the fourth power of the wire (EN 13906-1:2013, clause 9.4:
k = G d^4 / (8 D^3 n)). So a gauge is only ever written with its system first.

Sources of the tables: the US steel wire gauge (Washburn & Moen) and the British Standard Wire
Gauge in inches as printed side by side at wovenwire.com/reference/wiregauge-print1.htm; SWG also
at engineeringtoolbox.com/swg-standard-wire-gauge-d_1779.html. SWG was BS 3737:1964, withdrawn.
"""

import re
from typing import Literal, NamedTuple

import msgspec

from spring_layout.deck.model import Coil
from spring_layout.units import MM_PER_INCH, Units, format_length

System = Literal["SWG", "W&M"]
SYSTEMS: tuple[System, ...] = ("SWG", "W&M")
SYSTEM_NAMES: dict[System, str] = {
    "SWG": "British Standard Wire Gauge",
    "W&M": "US steel wire gauge (Washburn & Moen)",
}

_INCHES: dict[System, dict[int, float]] = {
    "W&M": {
        6: 0.1920,
        7: 0.1770,
        8: 0.1620,
        9: 0.1483,
        10: 0.1350,
        11: 0.1205,
        12: 0.1055,
        13: 0.0915,
        14: 0.0800,
        15: 0.0720,
        16: 0.0625,
    },
    "SWG": {
        6: 0.192,
        7: 0.176,
        8: 0.160,
        9: 0.144,
        10: 0.128,
        11: 0.116,
        12: 0.104,
        13: 0.092,
        14: 0.080,
        15: 0.072,
        16: 0.064,
    },
}

GAUGES = tuple(_INCHES["SWG"])
"""The gauge numbers of both tables; seat wire is 8 to 11 (US lists, eastern UK lists)."""

_SYSTEM_WORDS: dict[System, str] = {
    "SWG": r"s\.?w\.?g\.?|british standard wire gauge",
    "W&M": r"w\s*(?:&|and|/)?\s*m|washburn\s*(?:&|and)\s*moen|us steel(?: wire)?(?: gauge)?",
}


class GaugeError(ValueError):
    """A gauge that cannot be read; the message is one sentence with the mend."""


class Gauge(NamedTuple):
    """A wire gauge with its system; as text "SWG 9" or "W&M 9"."""

    system: System
    number: int

    @property
    def wire_mm(self) -> float:
        """The wire's diameter, mm."""
        return wire_mm(self.system, self.number)

    def __str__(self) -> str:
        return f"{self.system} {self.number}"


def wire_mm(system: System, gauge: int) -> float:
    """The diameter of gauge number ``gauge`` in ``system``, mm. Raises GaugeError."""
    table = _INCHES.get(system)
    if table is None:
        raise GaugeError(f"“{system}” is no wire gauge here; use SWG or W&M.")
    if gauge not in table:
        raise GaugeError(f"{system} {gauge} is not in the table; give 6 to 16.")
    return round(table[gauge] * MM_PER_INCH, 6)


def nearest_gauge(mm: float, system: System) -> Gauge:
    """The gauge of ``system`` whose wire is nearest to ``mm``; the thicker where two are."""
    return min(
        (Gauge(system, number) for number in _INCHES[system]),
        key=lambda gauge: (round(abs(gauge.wire_mm - mm), 9), gauge.number),
    )


def parse_gauge(text: str) -> Gauge:
    """The gauge that ``text`` names with its system: "SWG 9", "W&M 9", "9 SWG".

    Raises GaugeError, also for a bare number: the system has to be named.
    """
    plain = " ".join(text.lower().split())
    for system, words in _SYSTEM_WORDS.items():
        found = re.fullmatch(rf"(?:{words})\s*(\d{{1,2}})|(\d{{1,2}})\s*(?:{words})", plain)
        if found:
            gauge = Gauge(system, int(found[1] or found[2]))
            wire_mm(*gauge)
            return gauge
    bare = re.fullmatch(r"(?:no\.? ?|gauge ?)?(\d{1,2})(?: ?(?:gauge|ga\.?|g))?", plain)
    raise GaugeError(_bare_fault(int(bare[1])) if bare else _unread_fault(text))


def _bare_fault(number: int) -> str:
    if number not in GAUGES:
        return f"Gauge {number} is not in the tables; give SWG or W&M with a number 6 to 16."
    swg, wm = (wire_mm(system, number) for system in SYSTEMS)
    return (
        f"Say which gauge: SWG {number} is {swg:.2f} mm, W&M {number} is {wm:.2f} mm "
        f"({_difference(number)} in stiffness)."
    )


def _unread_fault(text: str) -> str:
    return f"“{text[:30]}” is no wire gauge; write it like SWG 9 or W&M 9."


def stiffness_ratio(number: int) -> float:
    """How much stiffer W&M ``number`` is than SWG ``number``, all else equal (1.12 for nine).

    Stiffness goes by the wire's fourth power (EN 13906-1:2013, clause 9.4).
    """
    return (wire_mm("W&M", number) / wire_mm("SWG", number)) ** 4


def gauge_note(number: int, units: Units = "mm") -> str:
    """One sentence on what the two systems make of the same gauge number."""
    wires = [wire_mm(system, number) for system in SYSTEMS]
    swg, wm = (format_length(wire, units, "wire") for wire in wires)
    if wires[0] == wires[1]:
        return f"SWG {number} and W&M {number} are the same wire, {swg}."
    return f"SWG {number} is {swg} and W&M {number} is {wm}: {_difference(number)} in stiffness."


def _difference(number: int) -> str:
    """How far the two systems differ at one number, as "12 %"."""
    return f"{abs(stiffness_ratio(number) - 1) * 100:.0f} %"


_SAME_WIRE_MM = 0.02
"""A file's wire may be rounded to 0.01 mm and still be that of its gauge."""


def gauge_fault(coil: Coil) -> str | None:
    """One sentence where a coil's gauge is not read, or is not that of its wire; else None."""
    if coil.gauge is None:
        return None
    try:
        gauge = parse_gauge(coil.gauge)
    except GaugeError as error:
        return str(error)
    if abs(gauge.wire_mm - coil.wire) <= _SAME_WIRE_MM:
        return None
    return (
        f"Spring size {coil.id} says {gauge}, which is {gauge.wire_mm:.2f} mm, but its wire is "
        f"{coil.wire:.2f} mm; measure it and put one of the two right."
    )


def with_gauge(coil: Coil, text: str) -> Coil:
    """``coil`` with the gauge that ``text`` names and its wire. Raises GaugeError."""
    gauge = parse_gauge(text)
    return msgspec.structs.replace(coil, gauge=str(gauge), wire=gauge.wire_mm)


STOCK_NOTE = "Starting values of our own (common practice, no source): measure yours."


def _stock(inches: int, turns: float, top: float, waist: float, gauge: Gauge) -> Coil:
    """A double-cone seat spring of ``inches`` free height; diameters in mm."""
    return Coil(
        id=f"seat-{inches}in",
        free_height=round(inches * MM_PER_INCH, 1),
        wire=gauge.wire_mm,
        turns=turns,
        top_diameter=top,
        waist_diameter=waist,
        foot_diameter=top,
        gauge=str(gauge),
    )


STOCK: tuple[Coil, ...] = (
    _stock(4, 4, 76, 48, Gauge("SWG", 10)),
    _stock(5, 5, 80, 50, Gauge("SWG", 10)),
    _stock(6, 6, 86, 54, Gauge("SWG", 9)),
    _stock(7, 7, 90, 57, Gauge("SWG", 9)),
    _stock(8, 8, 95, 60, Gauge("SWG", 9)),
    _stock(9, 8, 100, 63, Gauge("SWG", 9)),
    _stock(10, 9, 105, 66, Gauge("SWG", 8)),
    _stock(12, 10, 110, 70, Gauge("SWG", 8)),
)
"""Seat springs by free height, to start from. Our own plausible values (common practice, no
source), marked so wherever they are shown: makers differ, and the spring on the bench counts."""


def stock_for(free_height: float) -> Coil:
    """The coil of the short list nearest in free height, mm; the taller where two are."""
    return min(STOCK, key=lambda coil: (abs(coil.free_height - free_height), -coil.free_height))
