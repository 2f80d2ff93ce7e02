"""What rules across surveys need to know of a form that was read."""

from registry.model.footprint import BellFootprint, Footprint
from registry.model.known import GONE
from registry.model.life import Happening
from registry.model.survey import BellEntry, ReadSurvey

ARRIVALS = frozenset({"moved", "returned", "sold", "found", "hung", "hidden", "retired"})
"""Words of ``event_kind`` that explain why a bell is in another tower than before."""

MEASURING = frozenset({"tape", "rule", "caliper", "template", "laser-distance", "scanner"})
"""Words of ``instrument_kind`` for what a mouth diameter is measured with."""


def footprint(read: ReadSurvey, file: str) -> Footprint:
    """Gather what rules across surveys need to know of one survey."""
    survey = read.survey
    visit, tower = survey.survey, survey.tower
    place = read.written["survey",]["id"]
    tolerance = max(
        (tool.tolerance_mm for tool in visit.instruments if tool.kind in MEASURING and tool.tolerance_mm),
        default=None,
    )
    return Footprint(
        file,
        place.line,
        place.column,
        visit.id,
        visit.kind,
        visit.date,
        visit.surveyors,
        tower.id,
        tower.latitude_deg,
        tower.longitude_deg,
        tuple(_bell_footprint(bell, index, read, tolerance) for index, bell in enumerate(survey.bells)),
        tower.accuracy_m,
    )


def _bell_footprint(bell: BellEntry, index: int, read: ReadSurvey, tolerance: float | None) -> BellFootprint:
    """Gather what is needed of one bell; half the spread of its readings counts as tolerance too."""
    place = read.written["bells", index]["id"]
    identity, dimensions = bell.identity, bell.dimensions
    readings = dimensions.mouth_diameter_readings_mm if dimensions else ()
    if len(readings) > 1:
        tolerance = (tolerance or 0.0) + (max(readings) - min(readings)) / 2
    return BellFootprint(
        bell.id,
        place.line,
        place.column,
        dimensions.mouth_diameter_mm if dimensions else None,
        tolerance,
        identity.material if identity else None,
        any(event.kind in ARRIVALS for event in bell.events),
        tuple(crack.number for crack in bell.cracks if crack.state != "none"),
        tuple(crack.number for crack in bell.cracks),
        bool(bell.cracks),
        identity is not None and identity.status in GONE,
        (identity.cast_date if identity else None) or "",
        tuple(
            Happening(event.kind, event.date or "", event.tower or "", event.other_bell or "")
            for event in bell.events
        ),
    )
