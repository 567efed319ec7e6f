"""What the program wants to tell the user, one topic a module, with stable codes.

``CODES`` is the table of all codes. Severity ``wrong`` is kept for what no school of the trade
does and for ties that break a rule; where the schools disagree the finding is a note that says so.
Limits are settings of the deck (``deck.spacing.limits``).
"""

from collections.abc import Callable, Mapping

from spring_layout.checks.base import (
    check_feet,
    check_over_rails,
    check_school,
    check_strips,
)
from spring_layout.checks.breaks import check_breaks, check_proved
from spring_layout.checks.coils import check_coils
from spring_layout.checks.crown import check_crown
from spring_layout.checks.edges import check_clearance, check_corners, check_over_the_edge
from spring_layout.checks.evenness import check_evenness
from spring_layout.checks.gaps import check_narrow, check_touching, check_wide
from spring_layout.checks.idle import check_idle_wishes
from spring_layout.checks.knots import check_wire_knots
from spring_layout.checks.levels import check_lower_rails, check_measured
from spring_layout.checks.outline import check_outline
from spring_layout.checks.pattern import check_one_net, check_ties_per_spring
from spring_layout.checks.seat import check_finished_height
from spring_layout.checks.squeeze import check_heights, check_squeeze
from spring_layout.checks.ties import check_bends, check_rails, check_rubbing
from spring_layout.checks.twine import check_rule_of_thumb
from spring_layout.deck.model import Deck
from spring_layout.planning.finding import Finding, Severity
from spring_layout.planning.parts import Parts

CODES: Mapping[str, tuple[Severity, str]] = {
    "FRAME-SPIKE": ("doubtful", "two sides of the frame that meet in a spike"),
    "GAP-TOUCHING": ("wrong", "top coils touch or overlap"),
    "GAP-SMALL": ("doubtful", "top coils so near that they can click"),
    "GAP-UNEVEN": ("doubtful", "gaps along one row or column differ too much"),
    "GAP-NARROW": ("note", "neighbours nearer than wished"),
    "GAP-WIDE": ("note", "even the nearest neighbour is farther than wished"),
    "EDGE-RING": ("wrong", "a top coil against the wood of a rail or side"),
    "EDGE-FOOT": ("wrong", "a bottom coil on the wood of a rail or side"),
    "EDGE-OVERHANG": ("doubtful", "a top coil over a rail, clear above it"),
    "CLEARANCE-SMALL": ("doubtful", "a top coil so near to a side that it can rub"),
    "CLEARANCE-NARROW": ("note", "nearer to a side than wished"),
    "CLEARANCE-WIDE": ("note", "no spring as near to a rail as wished"),
    "CORNER-NEAR": ("note", "a top coil close to a corner"),
    "COIL-SHAPE": ("doubtful", "a double cone without a waist"),
    "COIL-WIRE": ("note", "wire thinner or thicker than in seats"),
    "COIL-GAUGE": ("note", "a gauge without its system, or at odds with the wire"),
    "SQUEEZE-NONE": ("wrong", "tied no lower than the free height"),
    "SQUEEZE-SOLID": ("wrong", "tied to where the turns lie on each other"),
    "SQUEEZE-SMALL": ("doubtful", "tied down by too little"),
    "SQUEEZE-LARGE": ("doubtful", "tied down by too much"),
    "HEIGHT-BETWEEN": ("doubtful", "neighbours tied to very different heights"),
    "HEIGHT-MEASURED": ("doubtful", "springs tied off the slope and crown meant"),
    "TOP-AT-RAIL": ("doubtful", "tops too low or high beside a lower rail of arm or back"),
    "CROWN-NOT-TAKEN": ("note", "no spring stands deep enough to take the whole crown"),
    "SEAT-HEIGHT": ("doubtful", "the seat comes out at another height than wanted"),
    "SEAT-UNUSUAL": ("note", "a finished height that few seats have"),
    "WEB-NONE": ("wrong", "no webbing for the springs to stand on"),
    "WEB-ONE-WAY": ("doubtful", "springs over strips of one direction only"),
    "STITCH-OFF-WEB": ("doubtful", "a stitch that falls between the strips of webbing"),
    "STRIP-OVERLAP": ("doubtful", "strips set by hand that lie over each other"),
    "WEB-OVER-RAIL": ("note", "webbing over rails that are said to stand above it"),
    "WEB-SCHOOL": ("note", "webbing of another school's measurements than the one named"),
    "TIE-RUBS": ("doubtful", "springs tied lower than the rail: twine rubs on its edge"),
    "TIE-BEND": ("doubtful", "a tie that bends at a spring"),
    "TIE-BEND-SHARP": ("wrong", "a tie that bends by more than 25 degrees at a spring"),
    "TIE-OVER-SPRING": ("wrong", "a tie over a spring that it is not tied to"),
    "TIE-CLASH": ("wrong", "two ties of one run that cross or touch"),
    "TIE-LEAVES": ("wrong", "a tie that leaves the opening on its way"),
    "TIE-RULE": ("wrong", "another rule of tying that could not be kept"),
    "TIES-MISSING": ("wrong", "a spring without its tie of a run that ties every spring"),
    "TIES-FEWER": ("note", "springs tied six ways instead of eight"),
    "NET-SPLIT": ("wrong", "the ties do not hold the deck together as one net"),
    "RAIL-NONE": ("wrong", "a frame without any rail"),
    "ANCHOR-NONE": ("doubtful", "a tie whose way out meets no rail"),
    "ANCHOR-CLOSE": ("doubtful", "tack points so close that the rail can split"),
    "ANCHOR-CORNER": ("doubtful", "a tack point close to a corner joint"),
    "ANCHOR-TURN": ("wrong", "a tie that turns too far on its way to the tack point"),
    "WISH-JOIN": ("wrong", "a join made by hand that breaks a rule"),
    "WISH-ANCHOR": ("wrong", "a tack point moved by hand that breaks a rule"),
    "WISH-PART": ("wrong", "a parting made by hand that breaks a rule"),
    "WISH-IDLE": ("note", "joins, partings and tack points of ties that are not there"),
    "KNOT-UNDER-TIE": ("doubtful", "a coil's wire knot under a tie"),
    "KNOT-TURN": ("note", "springs not yet turned, their wire knots under ties"),
    "TWINE-SHORT": ("note", "the chosen rule of thumb cuts a piece too short"),
    "NOT-PROVED": ("note", "a big deck: a better set of ties may exist"),
}
"""Every code, its severity, and what it tells; worst first within a topic."""

CHECKS: tuple[Callable[[Deck, Parts], list[Finding]], ...] = (
    check_outline,
    check_touching,
    check_narrow,
    check_wide,
    check_evenness,
    check_over_the_edge,
    check_clearance,
    check_corners,
    check_coils,
    check_squeeze,
    check_heights,
    check_measured,
    check_lower_rails,
    check_crown,
    check_finished_height,
    check_feet,
    check_strips,
    check_over_rails,
    check_school,
    check_rubbing,
    check_bends,
    check_breaks,
    check_idle_wishes,
    check_ties_per_spring,
    check_one_net,
    check_rails,
    check_wire_knots,
    check_rule_of_thumb,
    check_proved,
)
"""Every check, in the order of the work."""

_RANK: Mapping[Severity, int] = {"wrong": 0, "doubtful": 1, "note": 2}


def all_findings(parts: Parts) -> tuple[Finding, ...]:
    """Every finding about a plan's ``parts``, worst first, else in the order of the checks.

    A deck without springs has none yet but about the outline of its frame.
    """
    checks = CHECKS if parts.standing.ids else (check_outline,)
    found = [finding for check in checks for finding in check(parts.deck, parts)]
    return tuple(sorted(found, key=lambda finding: _RANK[finding.severity]))
