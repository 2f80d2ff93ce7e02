"""The plain facts of a bell, from which everything about it is computed."""

from collections import defaultdict
from collections.abc import Iterator

from registry.model.bell import ProfilePoint
from registry.model.bell_facts import BellFacts, DatedText, HeardSound, MeasuredSection, StruckPoint, Told
from registry.store.history import BellHistory, newest, newest_strike, newest_value, told
from registry.store.kin import kin_of


def facts_of_bell(history: BellHistory) -> BellFacts:
    """Give the plain facts from which everything about a bell is computed."""
    mass = newest(history.dimensions, "mass_kg")
    partials: defaultdict[str, dict[str, float]] = defaultdict(dict)
    nominal = None
    for row in history.partial:
        # Of a partial given twice the first counts.
        partials[row["survey_id"]].setdefault(row["name"], row["frequency_hz"])
        if nominal is None and row["name"] == "nominal":
            nominal = Told(row["frequency_hz"], row["survey_id"])
    return BellFacts(
        history.bell_id,
        told(history.bell_seen, "material"),
        told(history.dimensions, "profile_class"),
        told(history.dimensions, "mouth_diameter_mm"),
        None if mass is None else Told(mass["mass_kg"], mass["survey_id"]),
        None if mass is None else mass["mass_basis"],
        newest_strike(history.sound)[0],
        nominal,
        told(history.bell_seen, "cast_date"),
        tuple(
            HeardSound(row["survey_id"], partials[row["survey_id"]], row["strike_hz"], row["tolerance_hz"])
            for row in history.sound
            if row["survey_id"] in partials
        ),
        tuple(
            StruckPoint(
                row["survey_id"],
                row["number"],
                row["thickness_at_pit_mm"],
                row["thickness_beside_mm"],
                row["pit_depth_mm"],
                row["tolerance_mm"],
            )
            for row in history.strike_point
        ),
        told(history.dimensions, "soundbow_thickness_mm"),
        _section(history),
        kin_of(history),
        tuple(_dated_texts(history)),
    )


ADDED_LATER = frozenset({"engraved", "painted", "stamped"})
"""Words of ``inscription_technique`` for what was put on the bell after it was cast."""

BACKWARDS = frozenset({"retrograde", "mirrored"})
"""Words of ``writing_direction`` for lines that may stand in the form from their end."""


def _dated_texts(history: BellHistory) -> Iterator[DatedText]:
    """Give the newest date as cast, and the newest transcription of every inscription cast with the bell."""
    seen = newest(history.bell_seen, "cast_text")
    begins = newest_value(history.bell_seen, "cast_year_begins")
    years = {row["survey_id"]: int(row["as_of"][:4]) for row in history.bell_seen}
    if seen is not None:
        survey_id = seen["survey_id"]
        yield DatedText("cast-text", survey_id, seen["cast_text"], years[survey_id], begins)
    told: set[int] = set()
    for row in history.inscription:
        text, survey_id = row["transcription"], row["survey_id"]
        if not text or row["number"] in told or row["technique"] in ADDED_LATER:
            continue
        told.add(row["number"])
        subject = f"inscription:{row['number']}"
        yield DatedText(subject, survey_id, text, years[survey_id], begins)
        if row["direction"] in BACKWARDS:
            yield DatedText(f"{subject}:backwards", survey_id, text[::-1], years[survey_id], begins)


def _section(history: BellHistory) -> MeasuredSection | None:
    """Give the section of the newest survey that measured one."""
    if not history.profile_point:
        return None
    survey_id = history.profile_point[0]["survey_id"]
    rows = [row for row in history.profile_point if row["survey_id"] == survey_id]
    return MeasuredSection(
        survey_id,
        tuple(ProfilePoint(row["height_mm"], row["diameter_mm"], row["thickness_mm"]) for row in rows),
        newest_value(history.dimensions, "head_thickness_mm"),
        newest_value(history.crown, "kind"),
        rows[0]["outside_tolerance_mm"],
        rows[0]["tolerance_mm"],
    )
