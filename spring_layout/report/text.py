"""The plan as a readable report: springs, ties in order with what to cut, checks, cautions."""

from collections.abc import Sequence

from spring_layout.checks.tie_words import twine_total
from spring_layout.checks.words import length, percent
from spring_layout.checks.work_words import CAUTIONS
from spring_layout.deck.model import Deck, TwineRule
from spring_layout.plan import Plan
from spring_layout.planning.finding import Finding, Severity
from spring_layout.planning.parts import Parts
from spring_layout.planning.twine import total_as_cut
from spring_layout.report.base import base_section
from spring_layout.report.hanks import hanks_section
from spring_layout.report.height import height_section
from spring_layout.report.materials import materials_section
from spring_layout.report.springs import springs_section
from spring_layout.report.tables import paragraph
from spring_layout.report.ties import cut_list, ties_section
from spring_layout.tolerances import SAME_PLACE
from spring_layout.units import MM_PER_INCH
from spring_layout.words import counted, words_for

RULE_WORDS: dict[TwineRule, str] = {
    "over-springs-3": "3 times the length over the springs",
    "single-1.67": "1 2/3 times the distance between the inside edges, a single pass",
    "doubled-4": "4 times the distance between the inside edges, doubled",
}

SEVERITY_WORDS: dict[Severity, str] = {"wrong": "Wrong", "doubtful": "Doubtful", "note": "Note"}


def plan_to_text(plan: Plan) -> str:
    """The whole report, ending with a line end; in the words of the plan, else of its units."""
    if plan.parts.words is None:
        plan = plan.in_words(words_for(plan.deck.units))
    parts = plan.parts
    sections = [_heading(parts)]
    if parts.standing.ids:
        sections += [_numbers(parts), springs_section(parts), height_section(parts)]
        sections.append(base_section(parts, plan.stitching))
        sections += [ties_section(parts), [*cut_list(parts), *hanks_section(parts)]]
        sections.append(materials_section(plan.deck, plan.materials))
    else:
        sections.append(["The deck has no springs yet."])
    sections += [_checks(plan.findings), _cautions()]
    return "\n\n".join("\n".join(section) for section in sections) + "\n"


def _heading(parts: Parts) -> list[str]:
    deck = parts.deck
    name = " ".join(deck.name.split()) or parts.told("Seat deck without a name")
    note = ["", *paragraph(deck.note)] if deck.note.strip() else []
    return [name, "=" * len(name), *note]


def _numbers(parts: Parts) -> list[str]:
    """The numbers that matter, a line each."""
    deck, ties = parts.deck, parts.ties
    area = parts.standing.outline.polygon.area / len(parts.standing.ids)
    counts = (
        f"{counted(len(parts.standing.ids), 'spring')}, {counted(len(ties.lines), 'tie')}, "
        f"{counted(len(ties.crossings), 'cross knot')}. Each spring has {_area(deck, area)} of "
        "the opening."
    )
    told = (counts, _tied(parts), _twine(parts))
    return [line for sentence in told for line in paragraph(parts.told(sentence))]


def _twine(parts: Parts) -> str:
    """How much twine, counted and by the rule of thumb, in two sentences."""
    deck, twine = parts.deck, parts.twine
    by_rule = twine_total(deck, sum(line.rule_length for line in twine.lines))
    total = twine_total(deck, total_as_cut(deck, twine))
    return (
        f"Spring twine: {counted(twine.pieces, 'piece')}, {total} in all, counted from the "
        f"hitches. The rule of thumb, {RULE_WORDS[deck.twine.rule]}, makes {by_rule}."
    )


def _tied(parts: Parts) -> str:
    """How high the deck is tied, in one sentence."""
    deck, heights = parts.deck, parts.heights
    back, crown = deck.tying.tied_height_back, heights.crown_taken
    height = length(deck, heights.tied_height)
    falls = f" at the front, {length(deck, back)} at the back" if back is not None else ""
    rises = f", {length(deck, crown)} more in the middle" if crown >= SAME_PLACE else ""
    return (
        f"Tied to {height}{falls}{rises}; free height {length(deck, heights.free_height)}, "
        f"tied down by {percent(heights.typical_squeeze)}."
    )


def _area(deck: Deck, square_mm: float) -> str:
    if deck.units == "in":
        return f"{square_mm / MM_PER_INCH**2:.0f} square inches"
    return f"{square_mm / 100:.0f} square cm"


def _checks(findings: Sequence[Finding]) -> list[str]:
    """The findings, worst first, each with its mend."""
    if not findings:
        return ["CHECKS", "", "Nothing to tell."]
    lines = ["CHECKS"]
    for finding in findings:
        head = f"{SEVERITY_WORDS[finding.severity]}: "
        lines += ["", *paragraph(finding.message, head, "  ")]
        lines += paragraph(f"{finding.mend} [{finding.code}]", "  ", "  ")
    return lines


def _cautions() -> list[str]:
    return ["CAUTIONS", "", *(line for c in CAUTIONS for line in paragraph(c, "- ", "  "))]
