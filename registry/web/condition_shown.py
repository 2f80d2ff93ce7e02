"""What the judgement of a bell shows on its page: grades, growth, changes, options, next inspections."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, NamedTuple

from registry.derive.condition.comparison import Compared
from registry.derive.condition.fact import Fact
from registry.derive.condition.firing import Fired
from registry.derive.condition.grading import Grade
from registry.derive.condition.growth import Growth
from registry.derive.condition.inspection import Inspection
from registry.derive.condition.judgement import Candidate
from registry.derive.condition.rulebook import rulebook
from registry.derive.condition.seen import BellSeen
from registry.derive.condition.swing import Swing
from registry.derive.condition.wording import growth_sentence, limit_sentence
from registry.drawing.growth import GrowthDrawing
from registry.judging import BellJudgement
from registry.model.cautions import Caution, cautions
from registry.units import format_estimate
from registry.wording.drawn import growth_of
from registry.wording.judged import RINGING, SWING_LINES, step_words
from registry.wording.words import heading, is_block, label, value_text

STEPS = ("condition", "urgency", "recommendation")

RINGING_SEVERITY = {"normal": 0, "reduced": 2, "stop": 3, "cannot-say": 1}
"""How gravely the advice on ringing is shown."""

TABLES = {
    "identity": ("bell_seen", "Identity"),
    "dimensions": ("dimensions", "Sizes and mass"),
    "sound": ("sound", "Sound by hand"),
    "crown": ("crown", "Crown"),
    "clapper": ("clapper", "Clapper"),
    "fittings": ("fittings", "Fittings"),
    "ringing": ("ringing", "Ringing"),
    "frame": ("frame", "Frame"),
    "strike_points": ("strike_point", "Strike point"),
    "cracks": ("crack", "Crack"),
    "inscriptions": ("inscription", "Inscription"),
}
"""Table and words of each section of the form that is laid side by side."""

COMMENTS = frozenset({"remarks", "heard"})
"""Fields that comment on one survey, and so always differ."""


class Step(NamedTuple):
    """One step of a grade in words, and how gravely it is shown (0 to 3; None where it is not known)."""

    words: str
    severity: int | None


class GradeLine(NamedTuple):
    """A component: its computed steps, and the surveyor's own beside them."""

    component: str
    steps: tuple[Step, ...]
    theirs: tuple[int | None, ...] | None
    survey_id: str | None
    day: str | None
    reasons: str
    disagreement: str


class Found(NamedTuple):
    """Findings that ask for the same."""

    severity: int
    found: str
    do: str
    source: str
    survey_ids: tuple[str, ...]


class Unknown(NamedTuple):
    """What is not known for one reason."""

    why: str
    what: str


class GrowthLine(NamedTuple):
    """How one thing grows, in sentences, with a drawing from three readings on."""

    sentence: str
    limit: str
    notes: tuple[str, ...]
    drawing: GrowthDrawing | None
    words: str


class ChangedLine(NamedTuple):
    """One fact that surveys tell differently; a text for each survey, empty where it does not tell."""

    section: str
    name: str
    values: tuple[str, ...]


class SwingLine(NamedTuple):
    """One quantity of a swing with its certain bounds."""

    name: str
    value: str
    bounds: str


@dataclass(frozen=True)
class ConditionShown:
    """The judgement of one bell."""

    overall: Annotated[tuple[Step, ...], "Condition and urgency of the worst part that safety hangs on."]
    ringing: Annotated[str, "Advice on ringing in a few words."]
    ringing_severity: Annotated[int, "How gravely it is shown."]
    ringing_text: Annotated[str, "The advice in full."]
    ringing_because: Annotated[list[str], "Findings that it rests on."]
    cautions: Annotated[list[Caution], "Cautions that go with it."]
    grades: Annotated[list[GradeLine], "Grades by component."]
    disagrees: Annotated[bool, "Whether a surveyor judges otherwise than the rules."]
    found: Annotated[list[Found], "What the rules found, gravest first."]
    unknown: Annotated[list[Unknown], "What the newest visit did not settle."]
    survey_id: Annotated[str | None, "The visit whose state is graded; None where nobody visited it."]
    pattern: Annotated[str, "What the steps follow."]
    growths: Annotated[list[GrowthLine], "How wear and cracks grow."]
    surveys: Annotated[list[BellSeen], "Surveys laid side by side, oldest first; those that tell something."]
    changed: Annotated[list[ChangedLine], "What they tell differently."]
    candidate: Annotated[Candidate, "Turning, options, and what is not proposed."]
    option_cautions: Annotated[list[Caution], "Cautions that go with the options."]
    swing: Annotated[Swing | None, "What its swing does; None where it is not known to swing."]
    swing_lines: Annotated[list[SwingLine], "The same in numbers."]
    inspections: Annotated[tuple[Inspection, ...], "When to look again, the first one first."]


def condition_shown(judged: BellJudgement, most_surveys: int) -> ConditionShown:
    """Put the judgement of a bell into words.

    Parameters
    ----------
    judged : BellJudgement
        Its judgement.
    most_surveys : int
        How many of its newest surveys are laid side by side.
    """
    grades, candidate = judged.grades, judged.candidate
    overall = grades.overall
    lines = [_grade_line(grade) for grade in grades.grades]
    first = max(len(judged.history) - most_surveys, 0)
    changed = [line for each in judged.compared if (line := _changed(each, first))]
    telling = [at for at in range(len(judged.history) - first) if any(line.values[at] for line in changed)]
    options = (*candidate.proposals, *candidate.withheld)
    return ConditionShown(
        overall=(_step(overall, "condition"), _step(overall, "urgency")),
        ringing=RINGING[grades.ringing.told_as],
        ringing_severity=RINGING_SEVERITY[grades.ringing.code],
        ringing_text=grades.ringing.text,
        ringing_because=list(dict.fromkeys(each.found for each in grades.ringing.because)),
        cautions=_cautions(grades.ringing.cautions),
        grades=lines,
        disagrees=any(line.disagreement for line in lines),
        found=_found((*overall.fired, *overall.asides, *_beside(grades.grades, overall))),
        unknown=_unknown([fact for grade in grades.grades for fact in grade.not_known]),
        survey_id=grades.survey_id,
        pattern=grades.pattern,
        growths=[_growth_line(growth) for growth in judged.growths],
        surveys=[judged.history[first + at] for at in telling],
        changed=[line._replace(values=tuple(line.values[at] for at in telling)) for line in changed],
        candidate=candidate,
        option_cautions=_cautions(
            code
            for option in options
            for code in option.cautions  # type: ignore[attr-defined]
            if code not in grades.ringing.cautions
        ),
        swing=judged.swing,
        swing_lines=_swing_lines(judged.swing) if judged.swing else [],
        inspections=judged.inspections,
    )


def _cautions(codes: Iterable[str]) -> list[Caution]:
    return [cautions()[code] for code in dict.fromkeys(codes)]


def _step(grade: Grade, name: str) -> Step:
    value, least = getattr(grade, name), getattr(grade.at_least, name)
    return Step(step_words(name, value, least), value if value is not None else least or None)


def _grade_line(grade: Grade) -> GradeLine:
    opinion = grade.opinion
    return GradeLine(
        grade.component,
        tuple(_step(grade, name) for name in STEPS),
        tuple(getattr(opinion.assessment, name) for name in STEPS) if opinion else None,
        opinion.survey_id if opinion else None,
        opinion.day.isoformat() if opinion else None,
        (opinion.assessment.reasons or "") if opinion else "",
        opinion.disagreement if opinion else "",
    )


def _beside(grades: Sequence[Grade], overall: Grade) -> list[Fired]:
    """Give the findings of components that do not count for the overall grade."""
    told = [*overall.fired, *overall.asides]
    return [each for grade in grades for each in (*grade.fired, *grade.asides) if each not in told]


def _found(fired: Iterable[Fired]) -> list[Found]:
    """Put findings together that ask for the same, the most urgent first."""
    together: dict[tuple[str, str], list[Fired]] = {}
    for each in fired:
        together.setdefault((each.rule.do, each.rule.source), []).append(each)
    made = [
        Found(
            max(each.rule.grades.urgency if each.rule.grades else 0 for each in same),
            " ".join(dict.fromkeys(each.found for each in same)),
            do,
            source,
            tuple(dict.fromkeys(each.fact.survey_id for each in same if each.fact.survey_id)),
        )
        for (do, source), same in together.items()
    ]
    return sorted(made, key=lambda each: -each.severity)


def _unknown(facts: Iterable[Fact]) -> list[Unknown]:
    """Name what is not known, together what is not known for one reason."""
    kinds = rulebook().facts
    by_reason: dict[str, dict[str, None]] = {}
    for fact in facts:
        of = f" of {fact.where}" if fact.where else ""
        by_reason.setdefault(fact.why, {})[f"{kinds[fact.name].label}{of}"] = None
    return [Unknown(heading(why), ", ".join(names)) for why, names in by_reason.items()]


def _growth_line(growth: Growth) -> GrowthLine:
    sentence, drawing = growth_sentence(growth), growth_of(growth)
    readings = ", ".join(f"{each.day.year}: {each.value:g} ± {each.error:g} mm" for each in growth.readings)
    return GrowthLine(
        sentence,
        limit_sentence(growth),
        tuple(heading(note) for note in growth.notes),
        drawing,
        f"Readings of {growth.subject}: {readings}.",
    )


def _changed(compared: Compared, first: int) -> ChangedLine | None:
    """Word a fact that the surveys shown tell differently; None for comments, and where all agree."""
    table, title = TABLES[compared.section]
    values = compared.values[first:]
    told = [value for value in values if value is not None]
    if compared.field in COMMENTS or is_block(table, compared.field) or all(v == told[0] for v in told):
        return None
    number = f" {compared.number}" if compared.number is not None else ""
    texts = tuple(value_text(table, compared.field, value) for value in values)
    return ChangedLine(f"{title}{number}", heading(label(compared.field)), texts)


def _swing_lines(swing: Swing) -> list[SwingLine]:
    lines = []
    for name, (words, unit) in SWING_LINES.items():
        derived = getattr(swing, name)
        if derived is not None and derived.value is not None:
            value, low, high = (
                format_estimate(each, unit, derived.low, derived.high)
                for each in (derived.value, derived.low, derived.high)
            )
            lines.append(SwingLine(words, value, f"{low} to {high}"))
    return lines


def grades_in_short(bells: Iterable[Mapping[str, int | None]]) -> Step | None:
    """Word the worst computed grade of some bells, from their rows; None where none of them is there.

    A grade that is not known stays unknown, unless another bell has the gravest.
    """
    there = [bell for bell in bells if bell["grade_at_least"] is not None]
    if not there:
        return None
    least = max(bell["grade_at_least"] or 0 for bell in there)
    known = least == 3 or all(bell["grade"] is not None for bell in there)
    value = least if known else None
    return Step(step_words("condition", value, least), value if value is not None else least or None)
