"""The facts that the rules look at, told by the newest visit or carried over from earlier ones.

A fact is complete where the newest visit told it and named nothing of it as not inspected, or where it does
not apply. What only an earlier visit told is carried over, so that a fault stays a fault; it never makes a
fact complete.
"""

from collections.abc import Iterator, Sequence

from registry.derive.condition.cracks import CrackState, crack_states
from registry.derive.condition.fact import Fact, left_out
from registry.derive.condition.looks import LOOKS, Reading
from registry.derive.condition.rim_facts import rim_facts, soundbow_mm
from registry.derive.condition.rulebook import FactKind, Rulebook
from registry.derive.condition.seen import BellSeen, identity_told, newest_told, visits_of, weighed_kg


def facts_of(history: Sequence[BellSeen], book: Rulebook) -> tuple[Fact, ...]:
    """Give all facts of a bell after the visits of a history; none where nobody ever visited it.

    Parameters
    ----------
    history : sequence of BellSeen
        What the surveys tell of the bell, the oldest first. Documents tell what the bell is and what it
        weighs; the state is told by visits alone.
    book : Rulebook
        The rules.
    """
    visits = visits_of(history)
    if not visits:
        return ()
    facts = [*_crack_facts(visits, book), *rim_facts(history, visits, book)]
    facts.extend(_looked(book.facts[name], visits) for name in LOOKS)
    facts.append(Fact("material", identity_told(history, "material")))
    facts.extend(_clapper_asides(history, visits))
    facts.extend(_hazards(visits[-1]))
    return tuple(facts)


def _looked(kind: FactKind, visits: Sequence[BellSeen]) -> Fact:
    """Read one fact from the newest visit, or carry over what an earlier one told."""
    newest = visits[-1]
    look = LOOKS[kind.name]
    told = look(newest)
    skipped = left_out(kind, newest)
    if not told.applies:
        return Fact(kind.name, None, why=f"does not apply: {told.why}")
    if told.value is not None:
        return Fact(kind.name, told.value, None, "", newest.survey_id, newest.day, not skipped, skipped)
    why = skipped or "not written down"

    def earlier_value(seen: BellSeen) -> Reading | None:
        reading = look(seen)
        return None if reading.value is None else reading

    earlier = newest_told(visits[:-1], earlier_value)
    if earlier is None:
        return Fact(kind.name, None, complete=False, why=why)
    reading, seen = earlier
    return Fact(kind.name, reading.value, None, "", seen.survey_id, seen.day, complete=False, why=why)


def _crack_facts(visits: Sequence[BellSeen], book: Rulebook) -> Iterator[Fact]:
    newest = visits[-1]
    states = crack_states(visits, book)
    for name, in_crown in (("crack_state", False), ("crown_crack_state", True)):
        skipped = left_out(book.facts[name], newest)
        for each in states:
            if each.of_the_crown == in_crown or (each.unplaced and not in_crown):
                yield from _one_crack(name, each, skipped, in_crown=in_crown)
            elif each.unplaced:
                where = f"crack {each.number}"
                yield Fact(name, None, None, where, complete=False, why="nobody told where on the bell it is")
        if newest.entry.cracks:
            # Whoever wrote an entry has looked; only cracks that there are make it worse.
            yield Fact(name, "none", None, "", newest.survey_id, newest.day, not skipped, skipped)
        else:
            yield Fact(name, None, complete=False, why=skipped or "nobody wrote whether there are cracks")


def _one_crack(name: str, crack: CrackState, skipped: str, *, in_crown: bool) -> Iterator[Fact]:
    where = f"crack {crack.number}"
    why = crack.why_not or skipped
    yield Fact(name, crack.state, None, where, crack.told_by, crack.told_on, not why, why)
    if not crack.open:
        return
    of = "crown_" if in_crown else ""
    for fact, value in (
        (f"{of}crack_side", crack.side),
        (f"{of}crack_growth", "grown" if crack.grown else None),
        ("crack_position", None if crack.of_the_crown else crack.position),
        ("crack_repair", None if in_crown or crack.repair == "no" else crack.repair),
    ):
        if value is not None:
            yield Fact(fact, value, None, where, crack.told_by, crack.told_on)


def _clapper_asides(history: Sequence[BellSeen], visits: Sequence[BellSeen]) -> Iterator[Fact]:
    """Give clapper against bell, and the height of the blow against the thickness of the sound-bow."""
    clapper = newest_told(visits, lambda each: getattr(each.entry.clapper, "mass_kg", None))
    bell = weighed_kg(history)
    if clapper is not None and bell is not None:
        share = 100.0 * float(clapper[0]) / bell[0]
        yield Fact("clapper_share_percent", share, None, "", clapper[1].survey_id, clapper[1].day)
    height = newest_told(visits, lambda each: getattr(each.entry.clapper, "strike_height_mm", None))
    thickness = newest_told(history, soundbow_mm)
    if height is not None and thickness is not None:
        share = float(height[0]) / float(thickness[0])
        yield Fact("strike_height_share", share, None, "", height[1].survey_id, height[1].day)


def _hazards(newest: BellSeen) -> Iterator[Fact]:
    for hazard in newest.hazards:
        yield Fact("access_hazard", hazard.kind, None, hazard.where or "", newest.survey_id, newest.day)


def hangs(history: Sequence[BellSeen]) -> bool:
    """Say whether the bell hangs by the newest word on it; one of unknown fate counts as hung."""
    return identity_told(history, "status") in (None, "hanging", "unknown")
