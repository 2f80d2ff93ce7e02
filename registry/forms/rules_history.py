"""Rules on dates, status and the sources of claims."""

import re
from collections.abc import Iterator

from registry.forms.finding import Finding
from registry.forms.rules_entries import measured_sections
from registry.forms.ruling import Form, Found, is_after, makeup, walk
from registry.model.edtf import EdtfDate, parse_edtf
from registry.model.history import Event
from registry.model.survey import BellEntry, Path

OUT_OF_REACH = frozenset({"requisitioned", "lost", "stolen", "destroyed", "recast"})
"""Words of ``bell_status`` for a bell that a visitor cannot have measured."""

CASTING = frozenset({"cast", "recast-from", "metal-from"})
"""Words of ``event_kind`` for the casting of the bell itself."""

_YEAR = re.compile(r"(?<![0-9])(?:1[0-9]{3}|20[0-9]{2})(?![0-9])")


def survey_is_not_in_the_future(form: Form) -> Iterator[Found]:
    """Expect that nobody can have surveyed a tower after today."""
    day = form.survey.survey.date
    if day is not None and day > form.today.isoformat():
        finding = Finding(
            "date-in-future", day, f"today, {form.today.isoformat()}, or earlier", "check year, month and day"
        )
        yield Found(("survey",), "date", finding)


def nothing_is_dated_after_the_survey(form: Form) -> Iterator[Found]:
    """Expect that what a survey tells of happened before it; the bell it saw was cast before it."""
    day = form.survey.survey.date
    if day is None:
        return
    for path, section in walk(form.survey):
        for field in makeup(section.__class__).dates:
            text = getattr(section, field)
            if text is None or not is_after(parse_edtf(text), day):
                continue
            code = "cast-after-survey" if field == "cast_date" else "event-after-survey"
            finding = Finding(code, text, f"a date up to the survey, {day}", "check both dates")
            yield Found(path, field, finding)


def years_in_figures(text: str) -> list[str]:
    """List the years in four Arabic figures that a text holds."""
    return _YEAR.findall(text)


def text_as_cast_bears_out_the_date(_form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that a year in Arabic figures in the text as cast is one that the date given can mean."""
    identity = bell.identity
    if identity is None or identity.cast_text is None or identity.cast_date is None:
        return
    years = years_in_figures(identity.cast_text)
    date = parse_edtf(identity.cast_date)
    if years and not any(date.possibly_within(int(year), int(year)) for year in years):
        finding = Finding(
            "cast-text-against-date",
            f"{', '.join(years)} in the text as cast",
            f"a year within {identity.cast_date}",
            "check both; if the bell bears a year it was not cast in, say so in the remarks",
        )
        yield Found((*path, "identity"), "cast_text", finding)


def events_fit_the_casting(_form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that a bell was cast when it was cast, and nothing happened to it before."""
    if bell.identity is None or bell.identity.cast_date is None:
        return
    cast = parse_edtf(bell.identity.cast_date)
    for index, event in enumerate(bell.events):
        if event.date is None:
            continue
        expected = _misfit_of(event, parse_edtf(event.date), cast)
        if expected:
            finding = Finding(
                "event-against-cast",
                f"{event.kind} {event.date}",
                f"{expected}, {bell.identity.cast_date}",
                "check both dates; what happened to an older bell belongs in the entry of that bell",
            )
            yield Found((*path, "events", index), "date", finding)


def _misfit_of(event: Event, when: EdtfDate, cast: EdtfDate) -> str | None:
    """Say what date an event should have if it does not fit the casting."""
    if event.kind in CASTING and not cast.possibly_within(when.earliest_year, when.latest_year):
        return "the date of casting"
    before = cast.earliest_year is not None and (
        when.latest_year is not None and when.latest_year < cast.earliest_year
    )
    return "a date from the casting on" if before and event.kind not in CASTING else None


def status_allows_what_was_measured(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that nobody measures, on a visit, a bell that is no more."""
    status = bell.identity.status if bell.identity else None
    if form.survey.survey.kind != "visit" or status not in OUT_OF_REACH:
        return
    measured = measured_sections(bell)
    if measured:
        finding = Finding(
            "status-contradiction",
            f"{status}, and {', '.join(measured)}",
            "hanging, standing or on-display for a bell that was measured",
            "correct the status; what an old document says belongs in a form of kind document",
        )
        yield Found((*path, "identity"), "status", finding)


def protection_names_its_source(form: Form) -> Iterator[Found]:
    """Expect that a tower's protection rests on a list or decision."""
    path: Path = ("tower",)
    protection = form.survey.tower.protection
    if protection in ("protected", "pending") and not form.is_given(path, "protection_source"):
        yield _no_source(path, "protection", protection, "protection_source")


def claims_name_their_source(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that protection, wartime class and mass each rest on something."""
    identity, sizes = bell.identity, bell.dimensions
    here = (*path, "identity")
    if identity and identity.protected == "yes" and not form.is_given(here, "protected_source"):
        yield _no_source(here, "protected", "yes", "protected_source")
    if (
        identity
        and identity.wartime_class not in (None, "unknown")
        and not form.is_given(here, "wartime_class_source")
    ):
        yield _no_source(here, "wartime_class", str(identity.wartime_class), "wartime_class_source")
    here = (*path, "dimensions")
    if sizes and sizes.mass_kg is not None and not form.is_given(here, "mass_basis"):
        yield _no_source(here, "mass_kg", form.as_written(here, "mass_kg"), "mass_basis")


def _no_source(path: Path, field: str, read: str, source: str) -> Found:
    finding = Finding(
        "source-missing-for-claim", read, f"{source} beside it", f"fill in {source}: what this rests on"
    )
    return Found(path, field, finding)
