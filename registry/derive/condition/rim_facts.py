"""The facts of the rim: wear and burr of every strike point in use, and whether its pit is plausible."""

from collections.abc import Iterator, Sequence

from registry.derive.condition.fact import Fact, left_out
from registry.derive.condition.following import Track, follow_strike_points
from registry.derive.condition.looks import UNSEEN
from registry.derive.condition.loss import loss_at
from registry.derive.condition.pit import deepest_by_ball_mm
from registry.derive.condition.rulebook import Rulebook
from registry.derive.condition.seen import BellSeen, newest_told
from registry.model.condition import StrikePoint


def rim_facts(history: Sequence[BellSeen], visits: Sequence[BellSeen], book: Rulebook) -> Iterator[Fact]:
    """Give loss and burr of every point that is struck today, or may be."""
    newest = visits[-1]
    thickness = newest_told(history, soundbow_mm)
    thickness_mm = None if thickness is None else float(thickness[0])
    told_now = False
    for track in follow_strike_points(visits, book).tracks:
        if track.newest.item.use == "old":
            continue
        here_now = track.newest.seen.survey_id == newest.survey_id
        told_now = told_now or (here_now and track.newest.item.use == "in-use")
        where = f"strike point {track.number}"
        yield _loss_fact(track, newest, where, thickness_mm, book)
        yield from _since_first(track, newest, where)
        yield _burr_fact(track, newest, where, book)
        steeper = _shape_fact(track, history, where)
        if steeper is not None:
            yield steeper
    if not told_now:
        for name in ("soundbow_loss_percent", "burr"):
            why = left_out(book.facts[name], newest) or "no strike point in use was told"
            yield Fact(name, None, complete=False, why=why)


def soundbow_mm(seen: BellSeen) -> float | None:
    """Give the greatest thickness of the sound-bow that a survey tells [mm]."""
    return seen.entry.dimensions.soundbow_thickness_mm if seen.entry.dimensions else None


def _loss_fact(
    track: Track[StrikePoint], newest: BellSeen, where: str, thickness_mm: float | None, book: Rulebook
) -> Fact:
    name = "soundbow_loss_percent"
    skipped = left_out(book.facts[name], newest)
    losses = [
        (sighting.seen, loss_at(sighting.item, sighting.seen, thickness_mm, book))
        for sighting in track.sightings
    ]
    told = [(seen, loss) for seen, loss in losses if loss is not None]
    if not told:
        return Fact(name, None, None, where, complete=False, why=skipped or _unmeasured(track))
    seen, loss = told[-1]
    if seen.survey_id != newest.survey_id:
        why = skipped or f"not measured on {newest.day}"
        return Fact(name, loss.value, loss.high, where, seen.survey_id, seen.day, complete=False, why=why)
    why = skipped or loss.contradiction
    return Fact(name, loss.value, loss.high, where, seen.survey_id, seen.day, not why, why)


def _unmeasured(track: Track[StrikePoint]) -> str:
    point = track.newest.item
    if point.pit_depth_mm is None and point.thickness_at_pit_mm is None:
        return "the pit was not measured"
    return "the wall beside the pit was not measured"


def _since_first(track: Track[StrikePoint], newest: BellSeen, where: str) -> Iterator[Fact]:
    """Give the loss [%] against the first wall measured at this pit, unless the pit was built up."""
    name = "soundbow_loss_since_first_percent"
    walls = [
        (sighting.seen, sighting.item.thickness_at_pit_mm)
        for sighting in track.sightings
        if sighting.item.thickness_at_pit_mm is not None
    ]
    if not walls or any(sighting.item.built_up == "yes" for sighting in track.sightings):
        return
    seen, last_mm = walls[-1]
    now = seen.survey_id == newest.survey_id
    if len(walls) > 1:
        loss = max(100.0 * (1.0 - last_mm / walls[0][1]), 0.0)
        why = "" if now else f"the wall at the pit was not measured on {newest.day}"
        yield Fact(name, loss, None, where, seen.survey_id, seen.day, now, why)
    elif not now:
        why = f"the wall at the pit was measured on {seen.day}, and not since"
        yield Fact(name, None, None, where, complete=False, why=why)


def _burr_fact(track: Track[StrikePoint], newest: BellSeen, where: str, book: Rulebook) -> Fact:
    told = [
        (sighting.seen, sighting.item.burr)
        for sighting in track.sightings
        if sighting.item.burr is not None and sighting.item.burr not in UNSEEN
    ]
    skipped = left_out(book.facts["burr"], newest)
    if not told:
        return Fact("burr", None, None, where, complete=False, why=skipped or "not written down")
    seen, word = told[-1]
    why = skipped or ("" if seen.survey_id == newest.survey_id else "not written down")
    return Fact("burr", word, None, where, seen.survey_id, seen.day, not why, why)


def _shape_fact(track: Track[StrikePoint], history: Sequence[BellSeen], where: str) -> Fact | None:
    """Hold the depth of a pit against the ball that should have made it."""
    seen, point, _ = track.newest
    ball = newest_told(history, lambda each: each.entry.clapper and each.entry.clapper.ball_diameter_mm)
    mouth = newest_told(
        history, lambda each: each.entry.dimensions and each.entry.dimensions.mouth_diameter_mm
    )
    if ball is None or mouth is None or point.struck_by != "clapper":
        return None
    if point.pit_depth_mm is None or point.pit_length_mm is None:
        return None
    deepest_mm = deepest_by_ball_mm(point.pit_length_mm, float(ball[0]), float(mouth[0]))
    if deepest_mm is None:
        return None
    word = "steeper-than-ball" if point.pit_depth_mm > 1.5 * deepest_mm + 1.0 else "plausible"
    return Fact("pit_shape", word, None, where, seen.survey_id, seen.day)
