"""Rules on entries: ids and numbers that stand once, bells that are named, what a form must say."""

from collections.abc import Iterator
from typing import Any

from registry.forms.finding import Finding
from registry.forms.ruling import Form, Found, makeup, values_of, walk
from registry.model.fields import section_fields
from registry.model.known import GONE
from registry.model.survey import BellEntry, Path
from registry.model.visit import Document

OF_ONE_BELL = frozenset({"bell", "crown", "clapper", "fittings"})
"""Words of ``component`` that are parts of one bell."""


def numbers_stand_once(form: Form) -> Iterator[Found]:
    """Expect that within one list no two entries have the same number; no two partials have the same name."""
    for path, section in walk(form.survey):
        for name in makeup(section.__class__).lists:
            items = getattr(section, name)
            if len(items) < 2:
                continue
            if name == "partials":
                yield from _repeated(form, (*path, name), "name", items, "duplicate-partial")
            elif "number" in items[0]._fields:
                yield from _repeated(form, (*path, name), "number", items, "duplicate-number")


def bell_ids_stand_once(form: Form) -> Iterator[Found]:
    """Expect that no two bells of a form have the same id."""
    yield from _repeated(form, ("bells",), "id", form.survey.bells, "duplicate-identifier")


_ONCE = {
    "duplicate-partial": "put both into one entry; beat_hz takes the difference of a doublet",
    "duplicate-number": "give it the next free number; a number stays with its mark or point at every visit",
    "duplicate-identifier": "give each bell an id of its own, or put both entries into one",
}


def _repeated(form: Form, path: Path, field: str, items: tuple[Any, ...], code: str) -> Iterator[Found]:
    """Report items whose field has a value that an earlier item has."""
    seen: dict[Any, int] = {}
    for index, item in enumerate(items):
        value = getattr(item, field)
        if value is None:
            continue
        first = seen.setdefault(value, index)
        if first != index:
            line = form.spot((*path, first), field).line
            expected = f"each {field} once; {value} stands in line {line} already"
            yield Found((*path, index), field, Finding(code, str(value), expected, _ONCE[code]))


def positions_stand_once(form: Form) -> Iterator[Found]:
    """Expect that no two bells that hang have the same place in the ring."""
    seen: dict[int, str] = {}
    for path, bell in form.bells():
        identity = bell.identity
        if identity is None or identity.position is None or identity.status in GONE:
            continue
        first = seen.setdefault(identity.position, bell.id)
        if first is not bell.id:
            finding = Finding(
                "duplicate-position",
                str(identity.position),
                f"a place that {first} has not",
                "count again; 1 is the highest note",
            )
            yield Found((*path, "identity"), "position", finding)


def bells_named_are_entered(form: Form) -> Iterator[Found]:
    """Expect that a bell that is named elsewhere in the form has an entry in it."""
    known = {bell.id for bell in form.survey.bells}
    mentions: tuple[tuple[str, tuple[Any, ...]], ...] = (
        ("not_inspected", form.survey.survey.not_inspected),
        ("assessments", form.survey.assessments),
        ("attachments", form.survey.attachments),
    )
    for key, items in mentions:
        path: Path = ("survey", key) if key == "not_inspected" else (key,)
        for index, item in enumerate(items):
            if item.bell is not None and item.bell not in known:
                finding = Finding(
                    "unknown-bell",
                    item.bell,
                    "the id of a bell in this form",
                    "correct the id, or add the bell: an entry with its id is enough",
                )
                yield Found((*path, index), "bell", finding)


def parts_of_bells_name_the_bell(form: Form) -> Iterator[Found]:
    """Expect that an assessment of a part of a bell says of which, and no part is assessed twice."""
    seen: dict[tuple[str | None, str | None], int] = {}
    for index, item in enumerate(form.survey.assessments):
        path: Path = ("assessments", index)
        if item.component in OF_ONE_BELL and not form.is_given(path, "bell"):
            finding = Finding(
                "bell-not-named", item.component, "bell: the id of the bell", "say which bell this is about"
            )
            yield Found(path, "component", finding)
        if item.component is None:
            continue
        first = seen.setdefault((item.component, item.bell), index)
        if first != index:
            line = form.spot(("assessments", first), "component").line
            finding = Finding(
                "assessed-twice",
                item.component,
                f"one judgement of each part; line {line} has one already",
                "keep one of the two, and give all reasons there",
            )
            yield Found(path, "component", finding)


def visit_names_parts_not_inspected(form: Form) -> Iterator[Found]:
    """Expect that a visit says what could not be inspected, or that all could."""
    visit = form.survey.survey
    if visit.kind == "visit" and not form.is_given(("survey",), "not_inspected"):
        finding = Finding(
            "missing-required",
            "nothing",
            "parts not inspected and why",
            "name them, or write not_inspected: [] if every part was inspected",
        )
        yield Found(("survey",), "not_inspected", finding)


def document_is_described(form: Form) -> Iterator[Found]:
    """Expect that a form that records a document says which."""
    visit = form.survey.survey
    if visit.kind == "document" and not form.is_given(("survey",), "document"):
        required = ", ".join(field.name for field in section_fields(Document) if field.required)
        finding = Finding("missing-required", "nothing", "the document", f"fill in document with {required}")
        yield Found(("survey",), "document", finding)


MEASURED = {
    "dimensions": (
        "mouth_diameter_mm",
        "mouth_diameter_readings_mm",
        "height_mm",
        "slant_height_mm",
        "shoulder_diameter_mm",
        "soundbow_thickness_mm",
        "waist_thickness_mm",
    ),
    "sound": ("note", "strike_hz", "partials", "heard", "rings_for_s"),
    "clapper": ("mass_kg", "length_mm", "ball_diameter_mm", "flat_width_mm", "play_vertical_mm"),
}
"""Fields by section that only someone at the bell can fill in."""


def measured_sections(bell: BellEntry) -> list[str]:
    """Name what of a bell was measured, seen or heard at the bell itself."""
    named = [name for name, fields in MEASURED.items() if values_of(getattr(bell, name), fields)]
    return named + [name for name in ("strike_points", "cracks") if getattr(bell, name)]


def bells_are_described(form: Form, path: Path, bell: BellEntry) -> Iterator[Found]:
    """Expect that a bell that a visit names was looked at, or it is said why not."""
    visit = form.survey.survey
    if visit.kind != "visit" or bell.id is None:
        return
    told = any(
        value not in (None, ()) for name, value in zip(bell._fields, bell, strict=True) if name != "id"
    )
    excused = any(part.bell in (None, bell.id) for part in visit.not_inspected)
    identity_only = not any(
        getattr(bell, name) for name in bell._fields if name not in ("id", "identity", "events")
    )
    gone = bell.identity is not None and bell.identity.status in GONE
    if identity_only and not excused and not gone:
        finding = Finding(
            "nothing-measured",
            "its identity alone" if told else "its id alone",
            "something measured, seen or heard, or the reason in not_inspected",
            "add what was seen, or say why nothing was",
        )
        yield Found(path, "id", finding)
