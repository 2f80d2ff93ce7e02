"""What lies ahead of one bell: wear, turning, what its swing does, what may be done, when to look again."""

from collections.abc import Iterator, Sequence

from registry.derive.condition.growth import Growth
from registry.derive.condition.inspection import Inspection
from registry.derive.condition.judgement import Candidate, Cost
from registry.derive.condition.swing import Swing
from registry.derive.condition.turning import Turning
from registry.drawing.svg import growth_svg
from registry.judging import BellJudgement
from registry.model.cautions import cautions
from registry.model.derived import Derived
from registry.report.blocks import (
    Block,
    CautionBox,
    Cell,
    Column,
    Columns,
    Heading,
    Item,
    Items,
    Picture,
    Prose,
    Table,
)
from registry.units import format_estimate, format_quantity
from registry.wording.drawn import growth_of
from registry.wording.judged import (
    FOLLOWED,
    INSPECTIONS,
    OPTIONS,
    RATES,
    SWING_LINES,
    interval_words,
    limit_size,
    limit_words,
    rate_words,
)
from registry.wording.words import day, heading


def outlook_blocks(judged: BellJudgement) -> Iterator[Block]:
    """Tell what lies ahead of a bell."""
    yield from growth_blocks(judged.candidate.growths)
    yield from turning_blocks(judged.candidate.turning)
    if judged.swing is not None:
        yield from swing_blocks(judged.swing)
    yield from option_blocks(judged.candidate)
    yield from inspection_blocks(judged.inspections)


def growth_blocks(growths: Sequence[Growth]) -> Iterator[Block]:
    """Set out how pits and cracks grow; a single reading tells nothing of growth."""
    if not growths:
        return
    yield Heading("How wear and cracks grow")
    rows = []
    for growth in growths:
        rate = growth.per_year
        notes = [*growth.notes]
        if rate is not None:
            readings = len(growth.readings)
            notes.insert(0, f"{RATES[rate.method]}, {readings} readings")
        rows.append(
            (
                Cell(heading(growth.subject), FOLLOWED[growth.quantity]),
                Cell(rate_words(rate), interval_words(rate), "computed") if rate else Cell("–", style="soft"),
                Cell(rate_words(growth.per_100k), interval_words(growth.per_100k), "computed")
                if growth.per_100k
                else Cell("–", style="soft"),
                Cell(heading(growth.telling), "; ".join(notes)),
                Cell(limit_words(growth), "" if growth.limit is None else limit_size(growth)),
            )
        )
    yield Table(
        "Computed from the visits; the intervals come from the errors of the readings",
        (
            Column("What", share=2.4),
            Column("mm a year", number=True, share=2),
            Column("mm in 100\u202f000 strokes", number=True, share=2.2),
            Column("Does it grow?", share=3),
            Column("Limit of wear reached", share=2.8),
        ),
        tuple(rows),
        "Nobody knows that a rate will stay as it was.",
    )
    drawn = [picture for growth in growths if (picture := _growth_picture(growth))]
    for first in range(0, len(drawn), 2):
        pair = tuple((picture,) for picture in drawn[first : first + 2])
        yield Columns((1, 1), pair if len(pair) == 2 else (*pair, ()))


def _growth_picture(growth: Growth) -> Picture | None:
    """Draw three readings or more over the years."""
    drawing = growth_of(growth)
    if drawing is None:
        return None
    words = f"{heading(growth.subject)}, {FOLLOWED[growth.quantity]}"
    readings = ", ".join(
        f"{format_quantity(each.value, 'mm')} in {each.day.year}" for each in growth.readings
    )
    return Picture(
        f"{words}: {readings}.",
        f"{words}: readings with their largest errors, and the rate.",
        svg=growth_svg(drawing, words),
        tallest_mm=42,
    )


def turning_blocks(turning: Turning) -> Iterator[Block]:
    """Say where the bell can be turned to."""
    if not turning.turns and not turning.blocked:
        return
    yield Heading("Where it could be turned to")
    if turning.turns:
        rows = []
        for turn in turning.turns[:4]:
            way = "clockwise" if turn.angle_deg > 0 else "the other way"
            places = ", ".join(format_quantity(round(place), "deg") for place in turn.places_deg)
            rows.append(
                (
                    Cell(f"{format_quantity(abs(turn.angle_deg), 'deg')} {way}"),
                    Cell(places),
                    Cell(f"{format_quantity(turn.clear_deg, 'deg', 2)}", turn.clear_of),
                    Cell(turn.source, style="soft"),
                )
            )
        yield Table(
            "Seen from above; angles clear of old pits, cracks and welds",
            (
                Column("Turn the bell", share=2),
                Column("It is then struck at", share=2),
                Column("Free to the next", share=2),
                Column("Rests on", share=4),
            ),
            tuple(rows),
        )
    else:
        yield Prose(f"{heading(turning.why_not)}.")
    blocked = "; ".join(
        f"{format_quantity(turn.angle_deg, 'deg')}: {', '.join(turn.blocked_by)}"
        for turn in turning.blocked[:4]
    )
    if blocked:
        yield Prose(f"Not clear – {blocked}.", "soft")
    for note in turning.notes:
        yield Prose(f"{heading(note)}.", "stop")


def swing_blocks(swing: Swing) -> Iterator[Block]:
    """Say what the bell does to its fittings and its tower when it swings."""
    yield Heading("What its swing does")
    rows = []
    for name, (words, unit) in SWING_LINES.items():
        derived: Derived | None = getattr(swing, name)
        if derived is None or derived.value is None:
            continue
        value, low, high = (
            format_estimate(each, unit, derived.low, derived.high)
            for each in (derived.value, derived.low, derived.high)
        )
        rows.append((Cell(words), Cell(value, style="computed"), Cell(f"{low} to {high}", style="computed")))
    if rows:
        yield Table(
            "Computed as a rigid pendulum at the present swing",
            (
                Column("Quantity", share=4),
                Column("Estimate", number=True, share=2),
                Column("Certain bounds", number=True, share=3),
            ),
            tuple(rows),
        )
    if swing.tower_hz is not None and swing.multiples:
        close = [each for each in swing.multiples if each.close]
        tower = format_quantity(swing.tower_hz, "hz")
        if close:
            for each in close:
                low, high = (format_quantity(end, "hz", 3) for end in (each.low_hz, each.high_hz))
                feared = ": the multiple that is feared most" if each.feared else ""
                yield Prose(
                    f"{each.multiple} times its frequency, {low} to {high}, may be close to"
                    f" the tower's {tower}{feared}.",
                    "stop" if each.feared else "plain",
                )
        else:
            yield Prose(f"No multiple of its frequency comes close to the tower's {tower}.")
    for missing in swing.unknown:
        yield Prose(f"{heading(missing)}.", "soft")
    yield Prose(swing.caution, "soft")


def option_blocks(candidate: Candidate) -> Iterator[Block]:
    """List what may be done, the least intervention first, and what is not proposed, with the reasons."""
    yield Heading("What may be done, the least intervention first")
    items = []
    for proposal in candidate.proposals:
        ask = f"Ask first: {', '.join(proposal.ask)}." if proposal.ask else ""
        because = " ".join(proposal.because)
        more = [because, ask, _cost_words(proposal.cost), f"{heading(proposal.source)}."]
        items.append(Item(proposal.text, 0, "\n".join(filter(None, more))))
    yield Items(tuple(items))
    if candidate.withheld:
        yield Heading("Not proposed", 3)
        yield Items(
            tuple(
                Item(OPTIONS.get(each.code, each.code), 1, ". ".join(heading(why) for why in each.why) + ".")
                for each in candidate.withheld
            )
        )
    if candidate.refer:
        yield Prose(candidate.refer, "stop")
    words = cautions()
    codes = [code for proposal in candidate.proposals for code in proposal.cautions]
    codes += [code for withheld in candidate.withheld for code in withheld.cautions]
    for code in dict.fromkeys(codes):
        if code not in candidate.grades.ringing.cautions:
            caution = words[code]
            yield CautionBox(caution.title, caution.points, caution.source)


def _cost_words(cost: Cost | None) -> str:
    """Say what an option may cost by the user's table; nothing without one."""
    if cost is None:
        return ""
    low, high = (format_quantity(end, "number", 3) for end in (cost.low, cost.high))
    return f"May cost {low} to {high} {cost.currency} ({cost.source})."


def inspection_blocks(inspections: Sequence[Inspection]) -> Iterator[Block]:
    """Say when to look again, and why then."""
    if not inspections:
        return
    yield Heading("When to look again")
    yield Table(
        "",
        (Column("What", share=2), Column("By", share=2), Column("Why", share=4), Column("Rests on", share=4)),
        tuple(
            (
                Cell(INSPECTIONS.get(each.kind, each.kind)),
                Cell(day(each.due.isoformat()), style="strong"),
                Cell(heading(each.why)),
                Cell(each.source, style="soft"),
            )
            for each in inspections
        ),
    )
