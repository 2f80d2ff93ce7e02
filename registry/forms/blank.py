"""The blank form: as carried up a tower and filled in by hand or in an editor.

It is written from the model, so that it always has every field. What it says beside the fields comes from the
model, the vocabularies, ``schema/forms/guidance.yaml`` and ``schema/rules/cautions.yaml``.
"""

from collections.abc import Mapping
from datetime import date
from functools import cache
from typing import Any, Literal, NamedTuple

import yaml

from registry.forms.hints import hint_of, is_long_list, words_of
from registry.forms.page import WIDTH, Note, Page
from registry.forms.recall import as_scalar, named, recalled, recalled_entry, status_if_gone
from registry.model.bell import Inscription, Partial
from registry.model.cautions import cautions
from registry.model.condition import StrikePoint
from registry.model.fields import Field, Term, section_fields
from registry.model.known import KnownBell, KnownFields, KnownTower
from registry.model.survey import FORM_NAME, BellEntry, Survey
from registry.model.vocabulary import label_of, vocabulary
from registry.resources import shipped_text

FormKind = Literal["visit", "document"]

LEFT_OUT: dict[str, frozenset[str]] = {
    "visit": frozenset({"survey.document"}),
    "document": frozenset(
        {"survey.weather", "survey.temperature_c", "survey.instruments", "survey.not_inspected"}
        | {"tower.natural_frequency_hz", "tower.access", "frame", "hazards", "assessments"}
        | {f"bells.{key}" for key in ("crown", "clapper", "strike_points", "cracks", "fittings", "ringing")}
    ),
}
"""Sections and fields that a blank form of this kind does without; a filled one may have them."""

CARRIED_OVER = frozenset(
    {"name", "place", "latitude_deg", "longitude_deg", "accuracy_m", "region", "country", "owner", "contact"}
    | {"protection", "protection_source"}
)
"""Fields of a known tower that are filled in; all else must be observed anew."""

CAUTIONS = ("going-up", "no-certificate")
"""Cautions printed at the head of a visit; others stand beside the sections they concern."""

WRITTEN_BELOW = frozenset({"transcription", "expansion", "translation", "ornament"})
"""Texts full of signs that mean something in YAML: their ``|`` stands ready."""


@cache
def guidance() -> dict[str, Any]:
    """Read what the forms say beside the fields: titles, openings, how to write, sections."""
    text = shipped_text("schema", "forms", "guidance.yaml")
    data: dict[str, Any] = yaml.load(text, Loader=yaml.CBaseLoader)  # noqa: S506
    return data


def blank_form(
    kind: FormKind = "visit",
    known: KnownTower | None = None,
    today: date | None = None,
    *,
    bells: int = 1,
    schema: str = "survey.schema.json",
) -> str:
    """Write a blank form.

    Parameters
    ----------
    kind : str
        ``visit`` or ``document``.
    known : KnownTower, optional
        The tower, for a form that carries its last values as comments.
    today : date, optional
        The day on which the form is prepared, printed at its head.
    bells : int
        Empty entries for bells, at least 1; a known tower has one for each of its bells that is not gone.
    schema : str
        Path from the form to its JSON Schema, for editors.

    Returns
    -------
    str
        YAML that says nothing but what is known: ``check`` finds it to lack what is required, and no fault.
    """
    return _BlankForm(kind, known).write(today, bells, schema)


class _Earlier(NamedTuple):
    """What a section may be given: the last values to recall, and values to fill in."""

    last: KnownFields
    filled: Mapping[str, str]


_NOTHING = _Earlier({}, {})


class _BlankForm(Page):
    """A blank form in the making."""

    def __init__(self, kind: FormKind, known: KnownTower | None) -> None:
        super().__init__()
        self.kind = kind
        self.known = known
        self.long_lists: dict[str, None] = {}

    def write(self, today: date | None, bells: int, schema: str) -> str:
        self.head(today, schema)
        self.put("", f"form: {FORM_NAME}")
        for field in self.fields_of(Survey):
            self.heading(field, field.name, 0)
            if field.name == "bells":
                self.bells(bells)
            else:
                self.section_or_list(field, field.name, 0, self.earlier(field.name))
        self.put_long_lists()
        return self.text

    def fields_of(self, section: type[Any], path: str = "") -> tuple[Field, ...]:
        """List the fields of a section that this kind of form has."""
        lead = f"{path}." if path else ""
        left_out = LEFT_OUT[self.kind]
        return tuple(field for field in section_fields(section) if f"{lead}{field.name}" not in left_out)

    def earlier(self, name: str) -> _Earlier:
        """Give what is known of a section that does not belong to a bell."""
        last = self.known.sections.get(name, {}) if self.known else {}
        if name == "survey":
            return _Earlier({}, {"kind": self.kind})
        if name == "tower" and self.known:
            filled = {"name": self.known.name, "place": self.known.place, "id": self.known.id}
            return _Earlier(last, filled | {key: last[key].text for key in CARRIED_OVER if key in last})
        return _Earlier(last, {})

    def head(self, today: date | None, schema: str) -> None:
        """Write the head: what the form is for, cautions, how to write."""
        say = guidance()
        title = f"# {say['titles'][self.kind]}"
        self.put(f"# yaml-language-server: $schema={schema}", "#")
        self.put(f"{title}{FORM_NAME:>{WIDTH - len(title)}}", "#")
        self.prose(say["openings"][self.kind])
        if self.known:
            on = f" on {today.isoformat()}" if today else ""
            self.put("#")
            self.prose(
                f"Prepared{on} for {self.known.id}. Behind 'last' stands the newest value that any form "
                "gave, with its day and form. Look and measure first, then compare."
            )
        if self.kind == "visit":
            self.put("#", "# CAUTION")
            for code in CAUTIONS:
                caution = cautions()[code]
                for point in caution.points:
                    self.prose(point, label="  - ")
                self.prose(f"({caution.source})", label="    ")
        self.put("#", "# HOW TO WRITE")
        for label, text in say["how_to_write"].items():
            self.prose(text, label=f"  {label:<10}")

    def heading(self, field: Field, path: str, indent: int) -> None:
        """Write the heading of a section, and what there is to heed."""
        self.rule(field.name, field.help, indent)
        self.prose(guidance()["sections"].get(path, ""), indent)

    def section_or_list(self, field: Field, path: str, indent: int, earlier: _Earlier) -> None:
        """Write a section with its fields, or a list with an empty entry."""
        has_heading = path.count(".") == (1 if path.startswith("bells.") else 0)
        self.field(f"{' ' * indent}{field.name}:", *([] if has_heading or self.brief else [hint_of(field)]))
        if not field.is_list:
            self.fields(field.section, path, " " * (indent + 2), earlier)
        elif field.section is Partial:
            self.partials(" " * (indent + 2))
        else:
            for entry in self.entries_recalled(path):
                self.prose(recalled_entry(entry.values()), indent + 2)
            self.fields(field.section, path, " " * (indent + 2) + "- ", earlier)
            if field.section is StrikePoint:  # a bell has two or more
                with self.without_notes():
                    self.fields(field.section, path, " " * (indent + 2) + "- ", earlier)

    def fields(self, section: Any, path: str, lead: str, earlier: _Earlier) -> None:
        """Write the fields of a section; ``lead`` stands before the first, its width before the others."""
        for field in self.fields_of(section, path):
            if field.section is None:
                self.value(field, lead, earlier)
            else:
                self.section_or_list(field, f"{path}.{field.name}", len(lead), _NOTHING)
            lead = " " * len(lead)

    def value(self, field: Field, lead: str, earlier: _Earlier) -> None:
        """Write the line of one value with the notes beside it."""
        key = f"{lead}{field.name}:"
        last, filled = earlier.last.get(field.name), earlier.filled.get(field.name)
        notes: list[Note] = []
        if last:
            notes.append((f"From {last.survey_id}; correct it if need be." if filled else recalled(last),))
        if isinstance(field.kind, Term) and is_long_list(field.kind):
            self.long_lists[field.kind.vocabulary] = None
        if not self.brief:
            notes.append(hint_of(field))
        if filled:
            self.field(f"{key} {as_scalar(filled)}", *notes)
        elif field.is_list:
            self.empty_list(key, *notes)
        elif field.name in WRITTEN_BELOW:
            self.empty_text(key, *notes)
        else:
            self.field(key, *notes)

    def partials(self, lead: str) -> None:
        """Write one line for each partial, to be taken out of its comment where it is filled."""
        if not self.brief:
            self.put(f'{lead}# Take "# " away from each line you fill.')
        width = max(map(len, vocabulary("partial").terms)) + 1
        for name in vocabulary("partial").terms:
            self.put(f"{lead}# - {{name: {name + ',':<{width}} frequency_hz:          , beat_hz:          }}")

    def bells(self, count: int) -> None:
        """Write the bells: each of a known tower that is not gone, else ``count`` empty entries."""
        here: list[KnownBell | None] = []
        for bell in self.known.bells if self.known else ():
            status = status_if_gone(bell)
            if status is None:
                here.append(bell)
            else:
                word = label_of("bell_status", status.text)
                self.prose(
                    f"Known, and no longer here: {named(bell)}: {word} ({status.survey_date}, "
                    f"{status.survey_id}). An entry only if you learnt something new."
                )
        self.put("bells:")
        before = self.brief
        for place, entry in enumerate(here or [None] * max(1, count)):
            if place or entry:
                self.rule("bell", named(entry) if entry else "", 2)
            self.bell(entry)
            self.brief = True
        self.brief = before

    def bell(self, bell: KnownBell | None) -> None:
        """Write the entry of one bell."""
        for field in self.fields_of(BellEntry, "bells"):
            if field.section is None:
                self.value(field, "  - ", _Earlier({}, {"id": bell.id} if bell else {}))
                continue
            path = f"bells.{field.name}"
            if not self.brief:
                self.heading(field, path, 4)
            numbered = bell.numbered.get(field.name, {}) if bell else {}
            if field.section is Inscription:
                self.inscriptions(numbered)
            elif numbered:
                self.follow_up(field, path, numbered)
                continue
            last = bell.sections.get(field.name, {}) if bell else {}
            self.section_or_list(field, path, 4, _Earlier(last, {}))

    def follow_up(self, field: Field, path: str, numbered: Mapping[int, KnownFields]) -> None:
        """Write an entry for each numbered item of earlier visits, so that none is forgotten."""
        self.put(f"    {field.name}:")
        before = self.brief
        for number, last in numbered.items():
            rest = {name: value for name, value in last.items() if name != "number"}
            self.fields(field.section, path, "      - ", _Earlier(rest, {"number": str(number)}))
            self.brief = True
        self.brief = before

    def inscriptions(self, numbered: Mapping[int, KnownFields]) -> None:
        """Recall the inscriptions already transcribed, which need no new entry."""
        for number, last in numbered.items():
            told = [last[key] for key in ("place", "transcription", "ornament") if key in last]
            if told:
                self.prose(recalled_entry(told), 4, f"{number}  ")
        if numbered:
            self.prose("An entry only for what is new or reads otherwise, under the same number.", 4)

    def entries_recalled(self, path: str) -> tuple[KnownFields, ...]:
        """Give the hazards, and the parts not inspected, of the last visit that named any."""
        if self.known is None:
            return ()
        return {"hazards": self.known.hazards, "survey.not_inspected": self.known.not_inspected}.get(path, ())

    def put_long_lists(self) -> None:
        """Write the lists of words too long to stand beside their fields."""
        if self.long_lists:
            self.rule("lists", "words too many to stand beside their fields")
        for name in self.long_lists:
            self.prose(vocabulary(name).title + ":")
            self.prose(words_of(name, ", "), label="  ")
