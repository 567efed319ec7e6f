"""The plan as JSON: the contract that other programs read.

Lengths are written to 0.01 mm, never as a negative zero, so that the same deck gives the same
bytes. Shares (the squeeze, and the values of findings about it) are written to three decimals.
"""

import json
from collections import Counter
from collections.abc import Sequence
from typing import Any

from spring_layout.plan import Plan
from spring_layout.planning.finding import Finding
from spring_layout.planning.parts import Crossing, Heights, Line, LineTwine, Parts

FORMAT = "spring-layout-plan"
VERSION = 1


def plan_to_json(plan: Plan) -> str:
    """The plan as JSON text that ends with a line end; one spring, tie, knot or finding a line."""
    members = (
        f"  {_compact(key)}: {_laid_out(value)}" for key, value in plan_to_dict(plan).items()
    )
    return "{\n" + ",\n".join(members) + "\n}\n"


def _laid_out(value: Any) -> str:
    """A list with one item a line, anything else on one line."""
    if not isinstance(value, list) or not value:
        return _compact(value)
    return "[\n" + ",\n".join(f"    {_compact(item)}" for item in value) + "\n  ]"


def _compact(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, allow_nan=False)


def plan_to_dict(plan: Plan) -> dict[str, Any]:
    """The plan as plain lists and dictionaries, numbers already rounded."""
    parts = plan.parts
    lines = zip(parts.ties.lines, parts.twine.lines, strict=True)
    return {
        "format": FORMAT,
        "version": VERSION,
        "deck": plan.deck.name,
        "springs": _springs(parts),
        "lines": [_line(line, twine) for line, twine in lines],
        "crossings": [_crossing(crossing) for crossing in parts.ties.crossings],
        "twine": {
            "pieces": parts.twine.pieces,
            "cut_total": _mm(parts.twine.cut_total),
            "rule": parts.twine.rule,
        },
        "findings": [_finding(finding) for finding in plan.findings],
        "heights": _heights(parts.heights),
    }


def _mm(value: float) -> float:
    """``value`` (mm) to 0.01 mm, never a negative zero."""
    return round(float(value), 2) + 0.0


def _share(value: float) -> float:
    return round(float(value), 3) + 0.0


def _place(place: Sequence[float]) -> list[float]:
    return [_mm(place[0]), _mm(place[1])]


def _springs(parts: Parts) -> list[dict[str, Any]]:
    """The springs in the deck's order."""
    hitches = Counter(spring for line in parts.ties.lines for spring in line.springs * 2)
    spaces, standing = parts.spaces, parts.standing
    lone = len(standing.ids) < 2
    return [
        {
            "id": name,
            "label": parts.labels[name],
            "x": _mm(standing.centres[i, 0]),
            "y": _mm(standing.centres[i, 1]),
            "nearest": None if lone else standing.ids[spaces.nearest[i]],
            "gap": None if lone else _mm(spaces.gap[i]),
            "nearest_side": int(spaces.nearest_side[i]),
            "clearance": _mm(spaces.clearance[i]),
            "tied_height": _mm(parts.heights.tied[i]),
            "ties": hitches[name],
        }
        for i, name in enumerate(standing.ids)
    ]


def _line(line: Line, twine: LineTwine) -> dict[str, Any]:
    return {
        "number": line.number,
        "run": line.run,
        "springs": list(line.springs),
        "sides": list(line.sides),
        "anchors": [None if anchor is None else _place(anchor) for anchor in line.anchors],
        "path": [_place(place) for place in line.path],
        "along": [None if along is None else _mm(along) for along in line.along],
        "drape": _mm(twine.drape),
        "rule_length": _mm(twine.rule_length),
        "cut_length": _mm(twine.cut_length),
    }


def _crossing(crossing: Crossing) -> dict[str, Any]:
    x, y = _place(crossing.place)
    return {
        "x": x,
        "y": y,
        "lines": list(crossing.lines),
        "spring": crossing.spring,
        "tied_by": crossing.tied_by,
    }


def _finding(finding: Finding) -> dict[str, Any]:
    rounded = _share if finding.code.startswith("SQUEEZE-") else _mm
    return {
        "code": finding.code,
        "severity": finding.severity,
        "message": finding.message,
        "springs": list(finding.springs),
        "lines": list(finding.lines),
        "value": None if finding.value is None else rounded(finding.value),
        "limit": None if finding.limit is None else rounded(finding.limit),
        "stage": finding.stage,
        "mend": finding.mend,
        "source": finding.source,
        "sides": list(finding.sides),
        "place": None if finding.place is None else _place(finding.place),
    }


def _heights(heights: Heights) -> dict[str, Any]:
    finished = heights.finished_height
    return {
        "tied_height": _mm(heights.tied_height),
        "free_height": _mm(heights.free_height),
        "squeeze": _share(heights.typical_squeeze),
        "finished_height": None if finished is None else _mm(finished),
    }
