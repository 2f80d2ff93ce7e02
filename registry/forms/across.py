"""Rules across surveys: what a new form says, held against other forms and the registry."""

from collections.abc import Sequence

from registry.model.footprint import BellFootprint, Footprint
from registry.model.survey import BellEntry, ReadSurvey
from registry.problems import Problem

ARRIVALS = frozenset({"moved", "returned", "sold", "found", "hung", "rehung"})
GONE = frozenset({"moved", "requisitioned", "lost", "stolen", "destroyed", "recast", "on-display"})
MEASURING = frozenset({"tape", "rule", "caliper", "template"})


def footprint(read: ReadSurvey, file: str) -> Footprint:
    """Gather what rules across surveys need to know of one survey."""
    survey = read.survey
    visit = survey.survey
    place = read.written["survey",]["id"]
    tolerances = [
        tool.tolerance_mm
        for tool in visit.instruments
        if tool.kind in MEASURING and tool.tolerance_mm is not None
    ]
    bells = tuple(
        _bell_footprint(bell, index, read, max(tolerances, default=None))
        for index, bell in enumerate(survey.bells)
    )
    return Footprint(
        file,
        place.line,
        place.column,
        visit.id,
        visit.kind,
        visit.date,
        visit.surveyors,
        survey.tower.id,
        survey.tower.latitude_deg,
        survey.tower.longitude_deg,
        bells,
    )


def _bell_footprint(bell: BellEntry, index: int, read: ReadSurvey, tolerance: float | None) -> BellFootprint:
    """Gather what is needed of one bell."""
    place = read.written["bells", index]["id"]
    identity, dimensions = bell.identity, bell.dimensions
    readings = dimensions.mouth_diameter_readings_mm if dimensions else ()
    spread = (max(readings) - min(readings)) / 2 if len(readings) > 1 else 0.0
    return BellFootprint(
        bell.id,
        place.line,
        place.column,
        dimensions.mouth_diameter_mm if dimensions else None,
        None if tolerance is None and not spread else (tolerance or 0.0) + spread,
        identity.material if identity else None,
        any(event.kind in ARRIVALS for event in bell.events),
        tuple(crack.number for crack in bell.cracks if crack.state != "none"),
        tuple(crack.number for crack in bell.cracks),
        bool(bell.cracks),
        identity is not None and identity.status in GONE,
    )


def check_across(new: Sequence[Footprint], known: Sequence[Footprint]) -> list[Problem]:
    """Hold new surveys against each other and against those already known."""
    return []
