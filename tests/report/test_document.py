"""What a report says: read as the data from which it is set."""

import json
import sqlite3
from collections.abc import Iterator
from datetime import date
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest

from registry.judging import Settings
from registry.printing.glyphs import faces_in, missing_in
from registry.printing.typesetting import shipped_fonts
from registry.report.blocks import Document, as_data
from registry.report.document import report_document
from registry.report.photos import Photos
from registry.report.reading import subject_of
from registry.store.pages_survey import read_survey_source

MADE = date(2026, 1, 2)
EXPECTED = Path(__file__).parent / "expected"

TOWERS = (
    "bramblethwaite-st-anne", "halvenau-christ-church", "kestrel-gate", "kilmorrow-abbey",
    "marrewijk-town-hall", "morusany-st-wenceslas", "ormskerry-chapel", "ostrelle-notre-dame", "oud-wierhoek",
    "pelagoussa-st-nicholas", "pokrov-vellhaven", "quarrendyke-school", "sint-brandaan", "skarnow-point",
    "tarnwyke-all-saints", "vellhaven-minster", "vellmark-museum",
)  # fmt: skip


MADE_ONCE: dict[tuple[str, str], Document] = {}


def report(conn: sqlite3.Connection, kind: str, known_id: str) -> Document:
    """Put a report together, without photos; each once for all tests."""
    if (kind, known_id) not in MADE_ONCE:
        subject = subject_of(conn, kind, known_id)  # type: ignore[arg-type]
        MADE_ONCE[kind, known_id] = report_document(conn, subject, Photos({}, {}, {}), Settings(MADE))
    return MADE_ONCE[kind, known_id]


def blocks_of(document: Document, kind: str) -> list[dict[str, Any]]:
    """Give all blocks of one kind, also those that stand side by side."""

    def walk(value: Any) -> Iterator[dict[str, Any]]:
        if isinstance(value, dict):
            if value.get("is") == kind:
                yield value
            for each in value.values():
                yield from walk(each)
        elif isinstance(value, list):
            for each in value:
                yield from walk(each)

    return list(walk(as_data(document.blocks)))


def words_of(document: Document) -> str:
    """Give all that a report says, drawings left out."""

    def walk(value: Any) -> Iterator[str]:
        if isinstance(value, str):
            yield value
        elif isinstance(value, dict):
            for key, each in value.items():
                if key not in ("is", "svg", "style", "where"):
                    yield from walk(each)
        elif isinstance(value, list):
            for each in value:
                yield from walk(each)

    return "\n".join(walk(as_data(document.blocks)))


COMPUTED = "computed"


def outline(document: Document) -> str:
    """Write the data of a report for reading: one line a text, drawings by their words.

    Of computed values and their methods only the place is written: they have tests of their own.
    """
    lines = []
    for block in as_data(document.blocks):
        kind = block.pop("is")
        lines.append(f"[{kind}]")
        lines += [f"  {line}" for line in _lines(block)]
    told = [line for before, line in pairwise(["", *lines]) if line != before or COMPUTED not in line]
    return "\n".join(told) + "\n"


def _lines(value: Any) -> Iterator[str]:
    if isinstance(value, dict):
        if str(value.get("caption", "")).startswith("Methods"):
            yield "methods"
            return
        for key, each in value.items():
            if key in ("is", "svg", "style", "where", "share", "shares", "width", "tallest_mm") or each in (
                "",
                [],
                False,
            ):
                continue
            inner = list(_lines(each))
            yield from (
                [f"{key}: {inner[0]}"] if len(inner) == 1 else [f"{key}:", *(f"  {line}" for line in inner)]
            )
    elif isinstance(value, list):
        if any(isinstance(each, dict) and each.get("style") == "computed" for each in value):
            yield COMPUTED
            return
        for each in value:
            yield from (f"- {line}" if index == 0 else f"  {line}" for index, line in enumerate(_lines(each)))
    elif not str(value).startswith("<svg"):
        yield from str(value).split("\n")


@pytest.mark.parametrize(
    ("kind", "known_id"), [("bell", "sint-brandaan-maria"), ("survey", "oud-wierhoek-list-1942")]
)
def test_a_report_says_what_it_said_before(conn, golden, kind: str, known_id: str) -> None:
    """The words of two reports are kept; a change shows in the difference."""
    golden(EXPECTED / f"{known_id}.txt", outline(report(conn, kind, known_id)))


@pytest.mark.parametrize("tower_id", TOWERS)
def test_every_sample_tower_can_be_reported_and_printed(conn, tower_id: str) -> None:
    """There is a report on every tower, and a font for each of its characters."""
    document = report(conn, "tower", tower_id)
    assert missing_in(as_data(document), faces_in(shipped_fonts())) == []
    json.dumps(as_data(document), allow_nan=False)


def test_all_sample_towers_are_reported(conn) -> None:
    """The list above leaves none out."""
    assert set(TOWERS) == {row[0] for row in conn.execute("SELECT id FROM tower")}


@pytest.mark.parametrize("tower_id", TOWERS)
def test_every_sample_report_is_well_made(conn, tower_id: str) -> None:
    """Headings follow without a gap (ISO 14289-1, 7.4.2), rows fit their table, pictures have words."""
    document = report(conn, "tower", tower_id)
    levels = [block["level"] for block in blocks_of(document, "heading")]
    assert levels[:2] == [0, 1]
    assert all(after <= before + 1 for before, after in pairwise(levels[1:]))
    for table in blocks_of(document, "table"):
        assert {len(row) for row in table["rows"]} <= {1, len(table["columns"])}
    for picture in blocks_of(document, "picture"):
        assert len(picture["alt"]) > 20
        assert picture["caption"]


def test_identification_and_proof(conn) -> None:
    """Visit, surveyors, record and the SHA-256 of its form stand on the first page."""
    facts = blocks_of(report(conn, "tower", "kestrel-gate"), "facts")[0]["lines"]
    told = {line["name"]: line["text"] for line in facts}
    source = read_survey_source(conn, "kestrel-gate-2025-03-19")
    assert source is not None
    assert told["Visit"] == "19 March 2025"
    assert told["Surveyed by"] == "Jorun Ellingrode, Bram Oudecamp"
    record = "kestrel-gate-2025-03-19"
    assert told["Record"] == f"{record}; its page in the registry: /survey/{record}"
    assert told["SHA-256 of the form"] == source.sha256


def test_every_survey_of_a_report_is_named_with_its_hash(conn) -> None:
    """What a report rests on can be held against the forms."""
    words = words_of(report(conn, "tower", "sint-brandaan")).replace("\n", "")
    for (survey_id,) in conn.execute("SELECT id FROM survey WHERE tower_id = 'sint-brandaan'"):
        source = read_survey_source(conn, survey_id)
        assert source is not None
        assert survey_id in words
        assert source.sha256 in words


def test_a_cracked_bell_is_not_to_be_rung(conn) -> None:
    """Advice, caution and reason stand with the bell, and recasting is not proposed for it."""
    document = report(conn, "bell", "ostrelle-notre-dame-felicite")
    assert {"label": "Ringing", "words": "Do not ring", "style": "alarm", "is": "verdict"} in [
        verdict for block in blocks_of(document, "verdicts") for verdict in block["verdicts"]
    ]
    assert "A crack is recorded" in {box["title"] for box in blocks_of(document, "cautionbox")}
    words = words_of(document)
    assert "Crack 1 goes through the wall." in words
    assert "Refer to the heritage authority" in words


def test_parts_not_inspected_are_named_with_the_reason(conn) -> None:
    """What nobody saw is told before anything else is said of it."""
    items = [
        item
        for block in blocks_of(report(conn, "survey", "bramblethwaite-st-anne-2019-11-23"), "items")
        for item in block["items"]
    ]
    assert any("raised" in item["more"].lower() or "mouth" in item["more"].lower() for item in items)


def test_growth_carries_its_interval(conn) -> None:
    """A rate stands with its bounds and how sure they are; one reading tells nothing."""
    table = next(
        table
        for table in blocks_of(report(conn, "bell", "kestrel-gate-hour"), "table")
        if table["caption"].startswith("Computed from the visits")
    )
    rate = table["rows"][0][1]
    assert rate["style"] == "computed"
    assert " to " in rate["sub"]
    assert "%" in rate["sub"]


def test_what_follows_from_a_visit_is_marked_as_computed(conn) -> None:
    """Estimates stand apart from what was observed, each with its interval and source."""
    document = report(conn, "bell", "vellhaven-minster-angelus")
    table = next(each for each in blocks_of(document, "table") if each["note"].startswith("Lift nothing"))
    assert {row[1]["style"] for row in table["rows"]} == {"computed"}
    assert "Lift nothing by a computed mass" in table["note"]


def test_a_document_is_no_inspection(conn) -> None:
    """The report on a list grades nothing and proposes nothing."""
    document = report(conn, "survey", "vellhaven-minster-list-1917")
    assert document.title.startswith("What a document tells")
    assert blocks_of(document, "verdicts") == []
    assert "A document inspects nothing." in words_of(document)


def test_a_place_known_from_documents_alone_says_so(conn) -> None:
    """Nothing is called inspected where nobody ever was."""
    document = report(conn, "tower", "oud-wierhoek")
    assert document.title.startswith("What documents tell")
    assert "There was no visit." in words_of(document)


def test_every_page_says_what_a_report_is_not(conn) -> None:
    """The sentence of the foot and the cautions at the end are in every report."""
    document = report(conn, "bell", "quarrendyke-school-bell")
    assert "No structural or safety certificate" in document.foot
    titles = [box["title"] for box in blocks_of(document, "cautionbox")]
    assert {"What this record is not", "Computed is not measured", "Before you go up"} <= set(titles)


def test_the_day_of_asking_decides_what_is_overdue(conn) -> None:
    """An inspection in the past is called overdue, one to come is not."""
    subject = subject_of(conn, "tower", "quarrendyke-school")
    late = report_document(conn, subject, Photos({}, {}, {}), Settings(date(2030, 1, 1)))
    early = report_document(conn, subject, Photos({}, {}, {}), Settings(date(2017, 6, 1)))
    assert "overdue since" in words_of(late)
    assert "overdue since" not in words_of(early)
