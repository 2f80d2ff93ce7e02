"""The page of one bell: what was observed beside what is computed, and everything traced to its line."""

import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Annotated

from datasette.utils.asgi import Response

from registry.derive.life.lineage import INVERSE
from registry.drawing.profile import ProfileDrawing
from registry.drawing.rim import RimDrawing
from registry.drawing.unrolled import UnrolledDrawing
from registry.inscriptions.answers import AskedWords
from registry.judging import Settings, judge_bell
from registry.model.cautions import Caution, cautions
from registry.store import lineage, pages, pages_sound, pages_survey
from registry.store.pages import GONE, Row
from registry.store.pages_founders import read_proposals
from registry.web import rendering
from registry.web.asking import Ask
from registry.web.condition_shown import ConditionShown, condition_shown
from registry.web.context import NotHereError
from registry.web.page_identify import Pair, twins_of_bell
from registry.wording.choosing import cautions_of_bell, newest_of, newest_readings
from registry.wording.compared import MassPicture, SpectrumPicture, mass_picture, spectrum_of_readings
from registry.wording.computed import Estimate, EstimateGroup, by_subject, estimates_of
from registry.wording.dates import DatesShown, dates_shown
from registry.wording.drawn import free_places, profile_of, rim_of, unrolled_of
from registry.wording.inscriptions import InscriptionShown, Sign, inscription_shown, signs_in
from registry.wording.life import LifeShown, life_shown
from registry.wording.observed import FactGroup, History, current_groups, facts_of_row, history
from registry.wording.recordings import RecordingsShown, recordings_shown

MOST_COLUMNS = 8
MASSES_SHOWN = 150
"""Bells on either side in size that are drawn beside this one."""


@dataclass(frozen=True)
class PartialLine:
    """One partial of the newest survey that has any."""

    name: Annotated[str, "Word of the vocabulary partial."]
    frequency_hz: Annotated[float, "As read."]
    beat_hz: Annotated[float | None, "Beats a second, where it is a doublet."]
    line: Annotated[int | None, "Line of the form."]
    deviation: Annotated[Estimate | None, "Its computed deviation."]


@dataclass(frozen=True)
class BellPage:
    """One bell."""

    title: Annotated[str, "Name of the bell, or its id."]
    bell: Annotated[Row, "Its row of bell_current."]
    proposals: Annotated[list[Row], "Founders proposed because of the name its surveys give."]
    gone: Annotated[bool, "Whether it is no longer in its tower."]
    findings: Annotated[list[pages.Finding], "What needs attention, gravest first."]
    cautions: Annotated[list[tuple[Caution, bool]], "Cautions, and whether each is grave."]
    repair_cautions: Annotated[list[Caution], "Cautions beside a crack, before anyone thinks of repair."]
    groups: Annotated[list[FactGroup], "Observed facts by section, newest values."]
    estimates: Annotated[list[EstimateGroup], "Computed values of the bell by quantity."]
    profile: Annotated[ProfileDrawing | None, "The bell drawn to scale; None without a diameter."]
    rim: Annotated[RimDrawing | None, "Strike points and cracks from above; None where none is on record."]
    unrolled: Annotated[UnrolledDrawing | None, "Its surface laid flat; None where there is nothing to show."]
    strike_points: Annotated[list[Row], "Strike points of the newest survey that has any."]
    wear: Annotated[Mapping[str, Estimate], "Computed loss of these strike points by number."]
    cracks: Annotated[list[Row], "Crack entries of the newest survey that tells."]
    partials: Annotated[list[PartialLine], "Partials of the newest survey that has any."]
    spectrum: Annotated[SpectrumPicture | None, "These partials drawn; None without a nominal among them."]
    recordings: Annotated[RecordingsShown | None, "What its recordings tell; None where none was analysed."]
    mass_picture: Annotated[MassPicture | None, "Its mass beside those of like bells; None without a law."]
    partials_survey: Annotated[str | None, "That survey."]
    masses: Annotated[list[Row], "Masses stated elsewhere."]
    inscriptions: Annotated[list[InscriptionShown], "Inscriptions, each as its newest survey has it."]
    signs: Annotated[list[Sign], "Leiden signs that stand in them."]
    life: Annotated[LifeShown, "Its events and its stays, in their order and drawn."]
    links: Annotated[list[Row], "Bells it is bound to."]
    line: Annotated[list[Row], "Bells whose metal is in it, itself, and those in which its metal is."]
    events_elsewhere: Annotated[list[Row], "Events of other bells that name this one."]
    known_bells: Annotated[set[str], "Bells named in events that have a page."]
    known_towers: Annotated[set[str], "Towers named in events that have a page."]
    assessments: Annotated[list[Row], "Judgements of the surveyors, newest first."]
    not_inspected: Annotated[list[Row], "Parts of this bell that the newest visit did not inspect."]
    attachments: Annotated[list[Row], "Photos, recordings, drawings on record."]
    surveys: Annotated[list[pages.SurveyLine], "Every survey that has it, newest first."]
    by_id: Annotated[Mapping[str, pages.SurveyLine], "The same by their ids."]
    columns: Annotated[list[pages.SurveyLine], "The surveys set side by side."]
    history: Annotated[list[History], "Its facts through these surveys."]
    dates: Annotated[DatesShown | None, "What it says of its date; None where nothing can be read."]
    condition: Annotated[ConditionShown | None, "What is judged of it; None where it is gone."]
    twins: Annotated[list[Pair], "Records that may be of this bell too, as far as they were looked for."]


def bell_page(conn: sqlite3.Connection, ask: Ask) -> Response:
    """Make the page of one bell.

    Raises
    ------
    NotHereError
        When no bell has this id.
    """
    bell_id = ask.names["id"]
    bell = pages_survey.read_bell(conn, bell_id)
    if bell is None:
        raise NotHereError
    sections = pages_survey.read_sections_of_bell(conn, bell_id)
    derived = pages_survey.read_derived(conn, bell_id)
    surveys = pages.read_surveys_of_bell(conn, bell_id)
    facts = pages_survey.read_facts(conn, bell_id)
    values = {(row["section"], row["field"]): row["value"] for row in facts}
    inscriptions = newest_readings(sections["inscription"])
    strikes, cracks = newest_of(sections["strike_point"]), newest_of(sections["crack"])
    events, stays = sections["event"], lineage.read_stays(conn, bell_id)
    elsewhere = pages_survey.read_events_elsewhere(conn, bell_id)
    elsewhere = [row for row in elsewhere if row["kind"] not in INVERSE]
    named = {row[name] for row in (*events, *elsewhere) for name in ("other_bell", "bell_id") if row[name]}
    towers = {row["tower"] for row in events if row["tower"]} | {row["tower_id"] for row in stays}
    wear = by_subject(derived, "strike-point")
    newest_visit = pages_survey.read_newest_visit(conn, bell["tower_id"])
    judged = judge_bell(conn, bell_id, settings=Settings(date.today()))
    words = AskedWords(ask.one("text")[:200], ask.one("exact") == "yes", ask.many("formula"))
    there = judged if judged is not None and not judged.gone else None
    shown = condition_shown(there, MOST_COLUMNS) if there else None
    said = shown.option_cautions if shown else []
    missed = pages_survey.read_of_survey(conn, "not_inspected", newest_visit) if newest_visit else []
    return rendering.page(
        ask,
        "bell",
        BellPage(
            title=bell["name"] or bell_id,
            bell=bell,
            proposals=read_proposals(conn, bell_id),
            gone=bell["status"] in GONE,
            findings=pages.read_findings(conn, bell_id=bell_id),
            cautions=cautions_of_bell(
                bell["status"], bell["crack_state"], bell["soundbow_loss_percent"], cracks_told=bool(cracks)
            ),
            repair_cautions=[each for each in _repair_cautions(cracks) if each not in said],
            groups=current_groups(facts, sections),
            estimates=estimates_of(derived, bell),
            profile=profile_of(values, newest_of(sections["profile_point"])),
            rim=rim_of(values, strikes, cracks, free_places(there.turning) if there else ()),
            unrolled=unrolled_of(values, strikes, cracks, inscriptions),
            strike_points=strikes,
            wear={number: found for (number, survey), found in wear.items() if _is_of(survey, strikes)},
            cracks=cracks,
            partials=_partials(newest_of(sections["partial"]), by_subject(derived, "partial")),
            spectrum=_spectrum(newest_of(sections["partial"])),
            recordings=recordings_shown(pages_sound.read_recordings(conn, bell_id), bell["material"]),
            mass_picture=_masses(conn, bell),
            partials_survey=next((row["survey_id"] for row in sections["partial"]), None),
            masses=sections["earlier_mass"],
            inscriptions=[inscription_shown(row, words) for row in inscriptions],
            signs=signs_in(row["transcription"] for row in inscriptions),
            life=life_shown(events, stays, bell["cast_date"], date.today()),
            links=lineage.read_links(conn, bell_id),
            line=lineage.read_line_of_metal(conn, bell_id),
            events_elsewhere=elsewhere,
            known_bells=pages_survey.read_bell_ids(conn, named),
            known_towers=pages_survey.read_tower_ids(conn, towers - {None}),
            assessments=pages_survey.read_assessments(conn, bell_id=bell_id, tower_id=None),
            not_inspected=[row for row in missed if row["bell"] == bell_id],
            attachments=pages_survey.read_attachments(conn, bell_id=bell_id),
            surveys=surveys,
            by_id={survey.id: survey for survey in surveys},
            columns=surveys[:MOST_COLUMNS],
            history=history(sections, [survey.id for survey in surveys[:MOST_COLUMNS]]),
            dates=dates_shown(derived, bell, values),
            condition=shown,
            twins=twins_of_bell(conn, bell_id),
        ),
    )


def _masses(conn: sqlite3.Connection, bell: Row) -> MassPicture | None:
    size, material = bell["mouth_diameter_mm"], bell["material"]
    if size is None or material is None:
        return None
    others = pages_sound.read_masses_about(conn, material, size, MASSES_SHOWN, besides=bell["id"])
    return mass_picture(bell, others)


def _spectrum(rows: list[Row]) -> SpectrumPicture | None:
    # Of a partial given twice the first counts.
    read = {row["name"]: row for row in reversed(rows)}
    return spectrum_of_readings(
        {name: row["frequency_hz"] for name, row in read.items()},
        {name: row["beat_hz"] for name, row in read.items() if row["beat_hz"]},
    )


def _is_of(survey_id: str | None, rows: list[Row]) -> bool:
    return bool(rows) and survey_id in (None, rows[0]["survey_id"])


def _repair_cautions(cracks: list[Row]) -> list[Caution]:
    words = cautions()
    found = any(crack["state"] != "none" for crack in cracks)
    return [words["welding"], words["recasting"]] if found else []


def _partials(rows: list[Row], deviations: Mapping[tuple[str, str | None], Estimate]) -> list[PartialLine]:
    return [
        PartialLine(
            row["name"],
            row["frequency_hz"],
            row["beat_hz"],
            facts_of_row("partial", row, ["frequency_hz"])[0].line,
            deviations.get((row["name"], row["survey_id"])),
        )
        for row in sorted(rows, key=lambda row: row["frequency_hz"])
    ]
