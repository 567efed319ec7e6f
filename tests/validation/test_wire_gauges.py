"""Wire gauges against published tables.

Source of both columns: the table of wire gauges in inches at
wovenwire.com/reference/wiregauge-print1.htm; SWG also at
engineeringtoolbox.com/swg-standard-wire-gauge-d_1779.html. Millimetres are inches times 25.4
(the international inch, 1959). That Washburn & Moen is tabulated in ASTM A510 is from memory.
"""

import pytest

from spring_layout.deck.coils import GAUGES, nearest_gauge, stiffness_ratio, wire_mm

# number: (Washburn & Moen inch, mm; SWG inch, mm; (W&M / SWG) to the fourth)
TABLE = {
    6: (0.1920, 4.8768, 0.192, 4.8768, 1.0000),
    7: (0.1770, 4.4958, 0.176, 4.4704, 1.0229),
    8: (0.1620, 4.1148, 0.160, 4.0640, 1.0509),
    9: (0.1483, 3.7668, 0.144, 3.6576, 1.1249),
    10: (0.1350, 3.4290, 0.128, 3.2512, 1.2374),
    11: (0.1205, 3.0607, 0.116, 2.9464, 1.1644),
    12: (0.1055, 2.6797, 0.104, 2.6416, 1.0590),
    13: (0.0915, 2.3241, 0.092, 2.3368, 0.9784),
    14: (0.0800, 2.0320, 0.080, 2.0320, 1.0000),
    15: (0.0720, 1.8288, 0.072, 1.8288, 1.0000),
    16: (0.0625, 1.5875, 0.064, 1.6256, 0.9095),
}


@pytest.mark.parametrize("number", TABLE)
def test_the_wire_of_each_gauge_is_that_of_the_tables(number):
    wm_inch, wm_mm, swg_inch, swg_mm, ratio = TABLE[number]
    assert wire_mm("W&M", number) == pytest.approx(wm_inch * 25.4, abs=1e-9)
    assert wire_mm("W&M", number) == pytest.approx(wm_mm, abs=5e-5)
    assert wire_mm("SWG", number) == pytest.approx(swg_inch * 25.4, abs=1e-9)
    assert wire_mm("SWG", number) == pytest.approx(swg_mm, abs=5e-5)
    assert stiffness_ratio(number) == pytest.approx(ratio, abs=5e-5)


def test_all_gauges_of_the_tables_are_there_and_no_other():
    assert set(GAUGES) == set(TABLE)


@pytest.mark.parametrize("number", TABLE)
def test_each_wire_finds_its_own_gauge(number):
    assert nearest_gauge(TABLE[number][1], "W&M").number == number
    assert nearest_gauge(TABLE[number][3], "SWG").number == number


def test_nine_gauge_is_an_eighth_stiffer_in_the_american_table():
    # EN 13906-1:2013, clause 9.4: the rate goes by the fourth power of the wire
    assert stiffness_ratio(9) == pytest.approx((0.1483 / 0.144) ** 4, rel=1e-9)
    assert round(stiffness_ratio(9) * 100) == 112
