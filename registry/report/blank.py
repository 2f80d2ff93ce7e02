"""A form to print and take up the tower: its fields, the last values, drawings to mark by hand."""

import sqlite3
from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from typing import Any

from registry.drawing.cracks import CrackOnWall
from registry.drawing.rim import CrackSeen, StrikeSeen, rim_drawing
from registry.drawing.shape import sizes_from
from registry.drawing.svg import rim_svg, unrolled_svg
from registry.drawing.unrolled import StrikeOnWall, unrolled_drawing
from registry.model.bell import Dimensions, Inscription, Sound
from registry.model.cautions import cautions
from registry.model.condition import Assessment, Crack, StrikePoint
from registry.model.fields import Field, Quantity, Term, Text, section_fields
from registry.model.hanging import Clapper, Crown, Fittings, Ringing
from registry.model.known import GONE, KnownBell, KnownFields
from registry.model.tower import Frame, Hazard
from registry.model.visit import Instrument, NotInspected, Visit
from registry.model.vocabulary import vocabulary
from registry.report.blocks import (
    Block,
    Box,
    Boxes,
    CautionBox,
    Document,
    FillIn,
    Heading,
    Picture,
    Prose,
    Sheet,
)
from registry.store.known import known_tower
from registry.units import FIELD_UNITS, unit_of
from registry.wording.words import day, heading, label

FOOT = "Write what you see; name what you did not see, and why. Then copy it into a form: soundbow form"

SECTIONS: dict[str, tuple[str, type[Any]]] = {
    "dimensions": ("Sizes", Dimensions),
    "sound": ("Sound", Sound),
    "crown": ("Crown", Crown),
    "clapper": ("Clapper", Clapper),
    "fittings": ("Fittings", Fittings),
    "ringing": ("Ringing", Ringing),
}
"""The single sections of a bell on the form: key, heading, fields."""

ROW_SHARE = 6.0
"""Shares of the width in one row of boxes."""
FEW_TERMS = 7
"""A field with no more words than this offers them to be ticked."""


def blank_document(conn: sqlite3.Connection, tower_id: str, made: date) -> Document:
    """Put the form together.

    Raises
    ------
    LookupError
        When the registry has no such tower.
    """
    known = known_tower(conn, tower_id)
    if known is None:
        raise LookupError(f"no tower {tower_id}")
    present = [bell for bell in known.bells if _text(bell.sections.get("identity", {}), "status") not in GONE]
    blocks: list[Block] = [
        Heading(f"Survey by hand: {known.name}", 0),
        Prose(
            f"{known.place}. In brown: what was told last, and the year. Write beside it what you find.",
            "soft",
        ),
        *_cautions(),
        Heading("The visit", 1),
        Boxes(_packed(_fields(Visit, leave_out=("id", "kind", "remarks", "language")), {})),
        Heading("Instruments", 2),
        _rows("", Instrument, [], 4),
        Heading("Not inspected, and why", 2),
        _rows("", NotInspected, known.not_inspected, 5, fields=("part", "bell", "reason")),
        Heading("Hazards", 2),
        _rows("", Hazard, known.hazards, 3),
        Heading("Frame", 1),
        Boxes(_packed(_fields(Frame, leave_out=("remarks",)), known.sections.get("frame", {}))),
        Heading("Judgement of frame, access and tower, 0 to 3", 2),
        _rows(
            "", Assessment, [], 3, fields=("component", "condition", "urgency", "recommendation", "reasons")
        ),
    ]
    for bell in present:
        blocks += _bell(bell)
    return Document(
        f"Survey by hand: {known.name}",
        (),
        f"A form to fill in by hand at the tower {tower_id}, with the values told last.",
        ("bell", "survey form", tower_id),
        made.isoformat(),
        f"Survey by hand: {known.name}, {known.place}",
        f"{tower_id} · printed {day(made.isoformat())}",
        FOOT,
        tuple(blocks),
    )


def _cautions() -> Iterator[Block]:
    for code in ("going-up", "no-certificate"):
        caution = cautions()[code]
        yield CautionBox(caution.title, caution.points, caution.source, grave=code == "going-up")


def _bell(bell: KnownBell) -> Iterator[Block]:
    """Give the sheets of one bell: what to measure, and drawings to mark."""
    yield Sheet()
    yield Heading(bell.name or bell.id, 1, bell.id)
    for key, (title, section) in SECTIONS.items():
        yield Heading(title, 2, compact=True)
        yield Boxes(_packed(_fields(section, ("remarks",)), bell.sections.get(key, {})))
    yield Sheet()
    yield Heading(f"{bell.name or bell.id}: mark here", 2, bell.id)
    yield from _drawings(bell)
    yield Heading("Strike points", 2)
    yield _numbered(StrikePoint, bell.numbered.get("strike_points", {}), "S", 2)
    yield Heading("Cracks; write “none” where you looked and found none", 2)
    yield _numbered(Crack, bell.numbered.get("cracks", {}), "C", 2)
    yield Heading("Inscriptions", 2)
    yield _numbered(
        Inscription,
        bell.numbered.get("inscriptions", {}),
        "",
        1,
        fields=("place", "transcription", "letter_height_mm", "legibility"),
    )
    yield Heading("Your judgement, 0 to 3, and remarks", 2)
    yield _rows(
        "", Assessment, [], 3, fields=("component", "condition", "urgency", "recommendation", "reasons")
    )
    yield Boxes(((Box("Remarks", "", ROW_SHARE),),) * 3)


def _drawings(bell: KnownBell) -> Iterator[Block]:
    """Draw rim and surface with what is known, light enough to draw on."""
    dimensions = bell.sections.get("dimensions", {})
    diameter, height, shoulder, soundbow = (
        _number(dimensions, name)
        for name in ("mouth_diameter_mm", "height_mm", "shoulder_diameter_mm", "soundbow_thickness_mm")
    )
    strikes, cracks = bell.numbered.get("strike_points", {}), bell.numbered.get("cracks", {})
    rim = rim_drawing(
        [
            StrikeSeen(number, _number(told, "bearing_deg"), _text(told, "use"), _text(told, "struck_by"))
            for number, told in strikes.items()
        ],
        [
            CrackSeen(
                number, _number(told, "bearing_deg"), _text(told, "state") or "none", _text(told, "side")
            )
            for number, told in cracks.items()
        ],
        mouth_diameter_mm=diameter,
        wall_mm=soundbow,
    )
    unrolled = unrolled_drawing(
        sizes_from(diameter or 1000.0, height, shoulder, soundbow),
        [
            CrackOnWall(
                number,
                _text(told, "state") or "none",
                _text(told, "position"),
                _text(told, "orientation"),
                _number(told, "bearing_deg"),
                _number(told, "start_height_mm"),
                _number(told, "end_height_mm"),
                _number(told, "length_mm"),
                _text(told, "side"),
                _text(told, "repaired"),
            )
            for number, told in cracks.items()
        ],
        [
            StrikeOnWall(
                number,
                _number(told, "bearing_deg"),
                None,
                None,
                None,
                _text(told, "use"),
                _text(told, "struck_by"),
                built_up=_text(told, "built_up") == "yes",
            )
            for number, told in strikes.items()
        ],
    )
    name = bell.name or bell.id
    scale = "" if diameter else " No diameter is on record: heights and girth are not to scale."
    yield Picture(
        f"Rim of {name} from above, to mark by hand",
        "The rim from above, bearings clockwise from the mark. Write down what you take as the mark.",
        svg=rim_svg(rim, name),
        tallest_mm=72,
    )
    yield Picture(
        f"{name} unrolled, to mark by hand",
        f"The outer surface from outside. Draw cracks, chips, welds and words where they are.{scale}",
        svg=unrolled_svg(unrolled, name),
        tallest_mm=75,
    )


def _text(told: KnownFields, field: str) -> str | None:
    value = told.get(field)
    return value.text if value else None


def _number(told: KnownFields, field: str) -> float | None:
    """Read the number of a known value; None where it is written in another unit than the field's."""
    text = _text(told, field)
    unit = unit_of(field)
    if text is None:
        return None
    symbol = FIELD_UNITS[unit].symbol if unit else ""
    try:
        return float(text.removesuffix(symbol).strip())
    except ValueError:
        return None


def _fields(section: type[Any], leave_out: Sequence[str] = ()) -> list[Field]:
    return [
        field for field in section_fields(section) if field.kind is not None and field.name not in leave_out
    ]


def _packed(fields: Sequence[Field], told: KnownFields) -> tuple[tuple[Box, ...], ...]:
    """Put boxes into rows."""
    rows: list[list[Box]] = []
    room = 0.0
    for field in fields:
        box = _box(field, told)
        if not rows or room + box.share > ROW_SHARE:
            rows.append([])
            room = 0.0
        rows[-1].append(box)
        room += box.share
    return tuple(tuple(row) for row in rows)


def _box(field: Field, told: KnownFields) -> Box:
    unit = unit_of(field.name) if isinstance(field.kind, Quantity) else None
    symbol = f", {FIELD_UNITS[unit].symbol}" if unit and FIELD_UNITS[unit].symbol else ""
    options = _options(field)
    if options:
        share = 3.0 if sum(len(option) + 3 for option in options) > 34 else 2.0
    elif isinstance(field.kind, Text):
        share = 6.0 if field.kind.block else 3.0
    else:
        share = 1.5
    return Box(f"{heading(label(field.name))}{symbol}", _last(told, field.name), share, options)


def _options(field: Field) -> tuple[str, ...]:
    """Offer the words of a short list."""
    if not isinstance(field.kind, Term) or field.is_list:
        return ()
    terms = vocabulary(field.kind.vocabulary).terms
    return tuple(term.label for term in terms.values()) if len(terms) <= FEW_TERMS else ()


def _last(told: KnownFields, name: str) -> str:
    value = told.get(name)
    return f"{value.text} ({value.survey_date[:4]})" if value else ""


def _rows(
    first: str,
    section: type[Any],
    told: Sequence[KnownFields],
    empty: int,
    fields: Sequence[str] = (),
) -> FillIn:
    """Give a table to fill in: a row for each known item, then empty ones."""
    chosen = [field for field in _fields(section) if not fields or field.name in fields]
    rows = [("", *(_last(item, field.name) for field in chosen)) for item in told]
    rows += [("",) * (len(chosen) + 1)] * empty
    titles = (first, *(_title(field) for field in chosen))
    shares = (0.0, *(_share(field) for field in chosen))
    return FillIn(titles[1:], shares[1:], tuple(row[1:] for row in rows))


def _numbered(
    section: type[Any],
    told: Mapping[int, KnownFields],
    letter: str,
    empty: int,
    fields: Sequence[str] = (),
) -> FillIn:
    """Give a table of numbered items to fill in, with the numbers they keep."""
    chosen = [
        field for field in _fields(section, ("number", "remarks")) if not fields or field.name in fields
    ]
    rows = [
        (f"{letter}{number}", *(_last(item, field.name) for field in chosen)) for number, item in told.items()
    ]
    following = max(told, default=0) + 1
    rows += [(f"{letter}{following + index}", *("" for _ in chosen)) for index in range(empty)]
    return FillIn(
        ("No.", *(_title(field) for field in chosen)),
        (0.6, *(_share(field) for field in chosen)),
        tuple(rows),
    )


def _title(field: Field) -> str:
    unit = unit_of(field.name) if isinstance(field.kind, Quantity) else None
    symbol = FIELD_UNITS[unit].symbol if unit else ""
    return f"{heading(label(field.name))}{f', {symbol}' if symbol else ''}"


def _share(field: Field) -> float:
    if isinstance(field.kind, Text):
        return 4.0 if field.kind.block or field.kind.longest > 300 else 2.5
    return 1.5 if isinstance(field.kind, Term) else 1.0
