"""Strike points and cracks of one bell: the rim from above, the unrolled bell, tables through the visits."""

from collections.abc import Iterator, Sequence

from registry.drawing.svg import rim_svg, rim_words, unrolled_svg, unrolled_words
from registry.judging import BellJudgement
from registry.report.blocks import Block, Cell, Column, Columns, Heading, Item, Items, Picture, Prose, Table
from registry.report.reading import BellRecord
from registry.store.pages import Row
from registry.wording.choosing import newest_readings
from registry.wording.computed import by_subject
from registry.wording.drawn import free_places, rim_caption, rim_of, unrolled_caption, unrolled_of
from registry.wording.words import day, heading, quantity, term

MOST_VISITS = 4
SEVERITY = {"confirmed": 3, "suspected": 2, "none": 0}


def strike_and_crack_blocks(record: BellRecord, judged: BellJudgement | None) -> Iterator[Block]:
    """Tell where the bell is struck, worn, cracked and mended."""
    strikes, cracks = record.newest_list("strike_point"), record.newest_list("crack")
    yield Heading("Strike points and cracks")
    words: list[Block] = [_crack_list(cracks)]
    if not strikes:
        words.append(Prose("No strike point is on record, so the wear is not known.", "soft"))
    rim = rim_picture(record, strikes, cracks, free_places(judged.turning) if judged else ())
    yield from ([Columns((5, 4), ((rim,), tuple(words)))] if rim else words)
    unrolled = unrolled_picture(record, strikes, cracks)
    if unrolled:
        yield unrolled
    if strikes:
        yield _strike_table(record, strikes)
    yield from _through_visits(record)


def _crack_list(cracks: Sequence[Row]) -> Block:
    if not cracks:
        return Prose("No survey tells whether there is a crack. Not inspected is not good.", "stop")
    return Items(
        tuple(
            Item(
                heading(crack_words(row)) if _sound(row) else f"C{row['number']}: {crack_words(row)}",
                SEVERITY[row["state"]],
                row["remarks"] or "",
                f"{row['survey_id']}, crack {row['number']}",
            )
            for row in cracks
        )
    )


def _sound(row: Row) -> bool:
    """Say whether an entry tells of no crack and of no repair, so that its number names nothing."""
    return row["state"] == "none" and row["repaired"] in (None, "no")


def crack_words(row: Row) -> str:
    """Say in one sentence what is told of a crack."""
    told = ["no crack found" if _sound(row) else term("crack_state", row["state"])]
    told += [
        term(f"crack_{field}", row[field])
        for field in ("position", "orientation", "side")
        if row[field] is not None
    ]
    if row["bearing_deg"] is not None:
        told.append(f"at {quantity(row['bearing_deg'], 'deg')}")
    if row["length_mm"] is not None:
        told.append(f"{quantity(row['length_mm'], 'mm')} long")
    if row["opening_mm"] is not None:
        told.append(f"open {quantity(row['opening_mm'], 'mm')}")
    if row["start_height_mm"] is not None and row["end_height_mm"] is not None:
        low, high = (quantity(row[field], "mm") for field in ("start_height_mm", "end_height_mm"))
        told.append(f"from {low} to {high} above the lip")
    said = ", ".join(told)
    if row["growth"]:
        said += f"; growth: {term('crack_growth', row['growth'])}"
    if row["method"]:
        said += f"; looked for by {term('crack_method', row['method'])}"
    if row["repaired"] not in (None, "no"):
        said += f"; {term('crack_repair', row['repaired'])}"
    return said + "."


def rim_picture(
    record: BellRecord,
    strikes: Sequence[Row],
    cracks: Sequence[Row],
    free_deg: Sequence[tuple[float, float]] = (),
) -> Picture | None:
    """Draw the rim from above; None where nothing can be placed on it."""
    drawing = rim_of(record.values, strikes, cracks, free_deg)
    if drawing is None or not (drawing.strikes or drawing.cracks):
        return None
    alt = f"Rim of {record.name} from above. {rim_words(drawing)}"
    caption = f"From above, bearings clockwise. {rim_caption(drawing)}"
    return Picture(alt, caption, svg=rim_svg(drawing, record.name), tallest_mm=70)


def unrolled_picture(record: BellRecord, strikes: Sequence[Row], cracks: Sequence[Row]) -> Picture | None:
    """Draw the outer surface laid flat; None without a diameter, or where there is nothing to show on it."""
    drawing = unrolled_of(record.values, strikes, cracks, newest_readings(record.sections["inscription"]))
    if drawing is None:
        return None
    alt = f"{record.name} unrolled. {unrolled_words(drawing)}"
    svg = unrolled_svg(drawing, record.name)
    return Picture(alt, unrolled_caption(drawing), svg=svg, tallest_mm=80)


def _strike_table(record: BellRecord, strikes: Sequence[Row]) -> Table:
    wear = by_subject(record.derived, "strike-point")
    rows = []
    for row in strikes:
        loss = wear.get((str(row["number"]), row["survey_id"]))
        use = term("strike_use", row["use"])
        struck = f", {term('striker', row['struck_by'])}" if row["struck_by"] else ""
        lost = (
            Cell(loss.value or "not known", loss.interval or loss.note, "computed")
            if loss
            else Cell("not known", style="soft")
        )
        more = [
            row["remarks"] or "",
            "built up by weld" if row["built_up"] == "yes" else "",
            "burr or chipped lip below" if row["burr"] == "yes" else "",
        ]
        rows.append(
            (
                Cell(f"S{row['number']}"),
                Cell(quantity(row["bearing_deg"], "deg") or "–"),
                Cell(f"{use}{struck}" or "–", "; ".join(filter(None, more))),
                *(
                    Cell(quantity(row[field], "mm") or "–")
                    for field in ("pit_depth_mm", "thickness_at_pit_mm", "thickness_beside_mm")
                ),
                lost,
            )
        )
    return Table(
        f"Strike points on {day(strikes[0]['survey_date'])}; the loss is computed",
        (
            Column("Point"),
            Column("Bearing", number=True),
            Column("Use and remarks", share=3),
            Column("Pit", number=True),
            Column("Wall at pit", number=True),
            Column("Beside", number=True),
            Column("Loss of the wall", number=True, share=2.2),
        ),
        tuple(rows),
    )


def _through_visits(record: BellRecord) -> Iterator[Block]:
    """Follow strike points and cracks through the visits, where more than one tells of them."""
    told = list(
        dict.fromkeys(
            row["survey_id"] for table in ("strike_point", "crack") for row in record.sections[table]
        )
    )
    surveys = [survey for survey in record.surveys if survey.id in told][:MOST_VISITS]
    if len(surveys) < 2:
        return
    ids = [survey.id for survey in surveys]
    rows = [*_strikes_through(record, ids), *_cracks_through(record, ids)]
    if rows:
        yield Table(
            "The same points through the visits, the newest first",
            (Column("What", share=2), *(Column(day(survey.as_of), share=2) for survey in surveys)),
            tuple(rows),
        )


def _strikes_through(record: BellRecord, survey_ids: Sequence[str]) -> Iterator[tuple[Cell, ...]]:
    found = {(row["number"], row["survey_id"]): row for row in record.sections["strike_point"]}
    for number in sorted({number for number, _ in found}):
        cells = []
        for survey_id in survey_ids:
            row = found.get((number, survey_id))
            if row is None or (row["pit_depth_mm"] is None and row["thickness_at_pit_mm"] is None):
                cells.append(Cell("–", style="soft"))
                continue
            wall, beside = (
                quantity(row[field], "mm") for field in ("thickness_at_pit_mm", "thickness_beside_mm")
            )
            pit = f"pit {quantity(row['pit_depth_mm'], 'mm')}" if row["pit_depth_mm"] is not None else ""
            left = f"wall {wall}" + (f" of {beside}" if beside else "") if wall else ""
            cells.append(Cell(pit or left, left if pit else ""))
        if sum(cell.text != "–" for cell in cells) > 1:
            yield (Cell(f"S{number}"), *cells)


def _cracks_through(record: BellRecord, survey_ids: Sequence[str]) -> Iterator[tuple[Cell, ...]]:
    found = {(row["number"], row["survey_id"]): row for row in record.sections["crack"]}
    for number in sorted({number for number, _ in found}):
        rows = [found.get((number, survey_id)) for survey_id in survey_ids]
        if sum(row is not None for row in rows) < 2 or all(
            row is None or row["state"] == "none" for row in rows
        ):
            continue
        cells = []
        for row in rows:
            if row is None:
                cells.append(Cell("not mentioned", style="soft"))
                continue
            length = quantity(row["length_mm"], "mm")
            state = heading(term("crack_state", row["state"]))
            style = {"confirmed": "alarm", "suspected": "warn"}.get(row["state"], "plain")
            cells.append(
                Cell(
                    f"{state}{', ' + length if length else ''}",
                    term("crack_repair", row["repaired"]) if row["repaired"] not in (None, "no") else "",
                    style,
                )
            )
        yield (Cell(f"C{number}"), *cells)
