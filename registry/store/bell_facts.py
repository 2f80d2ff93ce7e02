"""The plain facts of a bell, from which everything about it is computed."""

from collections import defaultdict

from registry.model.bell import ProfilePoint
from registry.model.bell_facts import BellFacts, HeardSound, MeasuredSection, StruckPoint, Told
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
    )


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
