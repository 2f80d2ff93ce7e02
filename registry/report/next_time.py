"""What to look at next time: everything that this visit did not settle, as a list to take up the tower."""

from collections.abc import Iterator, Mapping, Sequence

from registry.derive.condition.rulebook import rulebook
from registry.judging import BellJudgement
from registry.report.blocks import Block, Cell, Column, Heading, Prose, Sheet, Table
from registry.report.reading import BellRecord
from registry.wording.words import heading, plural, term

FEW = 10
"""So many questions need no sheet of their own."""


def next_time_blocks(records: Sequence[BellRecord], judged: Mapping[str, BellJudgement]) -> Iterator[Block]:
    """List what no visit has settled, each question once with the bells it is asked of.

    Parameters
    ----------
    records : sequence of BellRecord
        The bells of the report.
    judged : mapping of str to BellJudgement
        Those of them that are there to be judged.
    """
    kinds = rulebook().facts
    names = {record.id: record.name for record in records}
    questions: dict[tuple[str, str], dict[str, None]] = {}
    for bell_id, one in judged.items():
        for grade in one.grades.grades:
            if rulebook().components[grade.component].never_complete:
                continue
            for fact in grade.not_known:
                asked = grade.component, kinds[fact.name].label
                questions.setdefault(asked, {})[names[bell_id]] = None
    if not questions:
        return
    if len(questions) > FEW:
        yield Sheet()
    yield Heading("To look at next time", 1)
    yield Prose("What this visit did not settle, and what the advice therefore does not rest on.", "soft")
    rows: list[tuple[Cell, ...]] = []
    component = ""
    for (part, question), bells in sorted(questions.items(), key=lambda each: _order(each[0][0])):
        if part != component:
            component = part
            rows.append((Cell(heading(term("component", part))),))
        all_bells = len(bells) == len(judged) > 1
        which = f"all {plural(len(bells), 'bell')}" if all_bells else ", ".join(bells)
        rows.append((Cell(f"☐ {heading(question)}"), Cell(which)))
    yield Table("", (Column("What", share=4), Column("Of which bell", share=6)), tuple(rows))


def _order(component: str) -> int:
    return list(rulebook().components).index(component)
