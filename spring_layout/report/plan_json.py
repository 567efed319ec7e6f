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
from spring_layout.planning.materials import Material
from spring_layout.planning.parts import (
    Crossing,
    Heights,
    Line,
    LineTwine,
    Parts,
    PlacedHitch,
    Strip,
)
from spring_layout.planning.stitching import StitchingPlan

FORMAT = "spring-layout-plan"
VERSION = 1


def plan_to_json(plan: Plan) -> str:
    """The plan as JSON text that ends with a line end; one spring, tie, knot or finding a line."""
    members = (
        f"  {_compact(key)}: {_laid_out(value)}" for key, value in plan_to_dict(plan).items()
    )
    return "{\n" + ",\n".join(members) + "\n}\n"


def _laid_out(value: Any) -> str:
    """A list with one item a line, the stitches too; anything else on one line."""
    if isinstance(value, dict) and value.get("stitches"):
        *others, (key, stitches) = value.items()
        head = _compact(dict(others))[:-1]
        return f"{head}, {_compact(key)}: {_laid_out(stitches)}}}"
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
        "hitches": [_hitch(hitch) for hitch in parts.hitches.in_order],
        "webbing": [_strip(strip) for strip in parts.webbing.strips],
        "stitching": _stitching(plan.stitching),
        "materials": [_material(material) for material in plan.materials],
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


def _hitch(hitch: PlacedHitch) -> dict[str, Any]:
    x, y, z = hitch.place
    return {
        "line": hitch.line,
        "spring": hitch.spring,
        "end": hitch.end,
        "ring": hitch.ring,
        "x": _mm(x),
        "y": _mm(y),
        "z": _mm(z),
    }


def _strip(strip: Strip) -> dict[str, Any]:
    return {
        "run": strip.run,
        "at": _mm(strip.at),
        "width": _mm(strip.width),
        "cut_length": _mm(strip.cut_length),
        "start": _mm(strip.start),
        "finish": _mm(strip.finish),
        "split": list(strip.split),
    }


def _stitching(plan: StitchingPlan) -> dict[str, Any]:
    return {
        "route_length": _mm(plan.route_length),
        "bound": _mm(plan.least),
        "exact": plan.exact,
        "twine": _mm(plan.twine),
        "new_lengths": list(plan.new_lengths),
        "stitches": [
            {"spring": s.spring, "point": s.point, "x": _mm(s.place[0]), "y": _mm(s.place[1])}
            for s in plan.stitches
        ],
    }


def _material(material: Material) -> dict[str, Any]:
    return {
        "item": material.item,
        "quantity": _mm(material.quantity),
        "unit": material.unit,
        "rule": material.rule,
    }
