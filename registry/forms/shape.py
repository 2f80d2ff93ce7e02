"""The tree of a form made a typed survey, every value by the kind of its field."""

from collections.abc import Iterator
from functools import cache
from typing import Any, NamedTuple

from registry.forms.reader import Entry, Items, Node, Refused, Scalar, Section, Tree
from registry.forms.shown import path_of, shown
from registry.forms.suggest import sections_with, suggest_key
from registry.forms.values import FAULTS, NULL_WORDS, Reader, quantity_read, range_of, reader_of
from registry.model.fields import Quantity, Text, section_fields
from registry.model.survey import FORM_NAME, Path, ReadSurvey, Survey, Written
from registry.problems import Problem


class _Slot(NamedTuple):
    """What reading needs to know of one field."""

    index: int
    name: str
    read: Reader | None
    usual: tuple[float, float] | None
    unit: str
    is_text: bool
    table: "_Table | None"
    is_list: bool
    required: bool
    help: str


class _Table(NamedTuple):
    """A section class made ready for reading."""

    name: str
    section: type[Any]
    slots: dict[str, _Slot]
    empty: tuple[Any, ...]
    required: tuple[_Slot, ...]


@cache
def _table_of(section: type[Any], name: str) -> _Table:
    slots = {}
    for index, field in enumerate(section_fields(section)):
        kind = field.kind
        slots[field.name] = _Slot(
            index,
            field.name,
            reader_of(kind) if kind is not None else None,
            kind.usual if isinstance(kind, Quantity) else None,
            kind.unit if isinstance(kind, Quantity) else "",
            isinstance(kind, Text),
            _table_of(field.section, field.name) if field.section is not None else None,
            field.is_list,
            field.required,
            field.help,
        )
    empty = tuple(() if slot.is_list else None for slot in slots.values())
    return _Table(name, section, slots, empty, tuple(slot for slot in slots.values() if slot.required))


def hollow(section: type[Any]) -> Any:
    """Make a section with nothing in it, not even what is required; its own required sections are hollow."""
    table = _table_of(section, "")
    values = list(table.empty)
    for slot in table.required:
        if slot.table is not None and not slot.is_list:
            values[slot.index] = hollow(slot.table.section)
    return section._make(values)


class Shaped(NamedTuple):
    """What a form says. Where ``problems`` hold an error, values that could not be read are None in it."""

    read: ReadSurvey
    problems: list[Problem]


def shape_survey(tree: Tree, file: str) -> Shaped:
    """Type every value of a form by its field and report what does not fit."""
    shaper = _Shaper(file, tree.complete)
    root = tree.root
    if not isinstance(root, Section):
        if tree.complete and root is not None:
            shaper.report(root, "unknown-form", (), "", "no keys", f"form: {FORM_NAME}", _START)
        return Shaped(ReadSurvey(hollow(Survey), {}), shaper.problems)
    form = root.entries.get("form")
    known = shaper.check_form(form, root)
    if not known:
        return Shaped(ReadSurvey(hollow(Survey), {}), shaper.problems)
    entries = {name: entry for name, entry in root.entries.items() if name != "form"}
    survey = shaper.section(
        _table_of(Survey, ""), Section(entries, root.line, root.column), (), keep_empty=True
    )
    return Shaped(ReadSurvey(survey, shaper.written), shaper.problems)


_START = "start from a blank form, which carries this line"


class _Shaper:
    """Reads the sections of one form."""

    def __init__(self, file: str, complete: bool) -> None:
        self.file = file
        self.complete = complete
        self.problems: list[Problem] = []
        self.written: dict[Path, dict[str, Written]] = {}

    def report(
        self, place: Node | Entry, code: str, path: Path, name: str, read: str, expected: str, remedy: str
    ) -> None:
        """Report a problem at a node or key."""
        self.problems.append(
            Problem(
                self.file, place.line, place.column, code, path_of(path, name), shown(read), expected, remedy
            )
        )

    def check_form(self, form: Entry | None, root: Section) -> bool:
        """Check the key that says which form this is; say whether the rest can be read as this one."""
        expected = f"form: {FORM_NAME}"
        if form is None:
            known = any(name in Survey._fields for name in root.entries)
            if self.complete or not known:
                self.report(
                    root, "unknown-form", (), "form", "no such key", expected, f"{_START}: {expected}"
                )
            return known
        node = form.value
        text = " ".join(node.text.split()) if isinstance(node, Scalar) else ""
        if text == FORM_NAME:
            return True
        read = shown(text) or "nothing"
        if text.lower() == FORM_NAME:
            remedy = f"write {FORM_NAME}, in small letters"
        else:
            remedy = f"this program reads the form '{FORM_NAME}'; copy the values into a blank one"
        self.report(node, "unknown-form", (), "form", read, expected, remedy)
        return False

    def section(self, table: _Table, node: Section, path: Path, *, keep_empty: bool = False) -> Any:
        """Read one section; None where nothing stands in it."""
        values = list(table.empty)
        written = {"": Written(node.line, node.column, "")}
        meant: set[str] = set()
        slots = table.slots
        for name, entry in node.entries.items():
            slot = slots.get(name)
            if slot is None:
                meant.add(self.unknown_key(table, name, entry, path))
                continue
            value = entry.value
            if slot.read is not None and not slot.is_list:
                if type(value) is Scalar:
                    values[slot.index] = self.value(slot, slot.read, value, name, path, written)
                elif type(value) is not Refused:
                    kind = "a list" if isinstance(value, Items) else "a section"
                    self.report(
                        value, "expected-value", path, name, kind, "a single value", f"write {name}: value"
                    )
                    written[name] = Written(value.line, value.column, "")
                else:
                    written[name] = Written(value.line, value.column, "")
            elif type(value) is Scalar and value.plain and value.text == "":
                continue
            elif slot.is_list:
                values[slot.index] = self.items(slot, entry, path, written)
            elif slot.table is not None:
                values[slot.index] = self.subsection(slot, slot.table, entry, path)
        is_empty = (
            not meant
            and all(value is None or value == () for value in values)
            and all(name in slots and slots[name].is_list for name in written if name)
        )
        if is_empty and not keep_empty:
            return None
        self.written[path] = written
        if self.complete:
            self.missing(table, node, path, values, written, meant)
        for slot in table.required:
            if slot.table is not None and not slot.is_list and values[slot.index] is None:
                values[slot.index] = hollow(slot.table.section)
        return table.section._make(values)

    def missing(
        self,
        table: _Table,
        node: Section,
        path: Path,
        values: list[Any],
        written: dict[str, Written],
        meant: set[str],
    ) -> None:
        """Report required fields that are absent or empty."""
        for slot in table.required:
            told = f"{slot.name}[0]" if slot.is_list else slot.name
            if values[slot.index] not in (None, ()) or told in written or slot.name in meant:
                continue
            if slot.table is not None and (*path, slot.name) in self.written:
                continue
            entry = node.entries.get(slot.name)
            self.report(
                entry or node,
                "missing-required",
                path,
                slot.name,
                "nothing",
                slot.help.rstrip("."),
                f"fill in {slot.name}",
            )

    def value(
        self, slot: _Slot, read: Reader, node: Scalar, name: str, path: Path, written: dict[str, Written]
    ) -> Any:
        """Read one value; None where it is empty, stands for nothing, or is wrong."""
        text = node.text.strip()
        if not text:
            return None
        if node.plain and text in ("~", "null", "Null", "NULL"):
            self.null_word(node, path, name, text)
            return None
        try:
            value = read(text)
        except FAULTS as fault:
            if text.casefold() in NULL_WORDS:
                self.null_word(node, path, name, text)
                return None
            written[name] = Written(node.line, node.column, text)
            shows = getattr(fault, "read", None) or text
            self.report(node, fault.code, path, name, shows, fault.expected, fault.remedy)
            return None
        written[name] = Written(node.line, node.column, "" if slot.is_text else text)
        if slot.usual is not None and not slot.usual[0] <= value <= slot.usual[1]:
            self.report(
                node,
                "unusual-value",
                path,
                name,
                quantity_read(text, value, slot.unit),
                f"usually {range_of(*slot.usual, slot.unit)}",
                "check the reading and its unit; if it is right, leave it",
            )
        return value

    def null_word(self, node: Scalar, path: Path, name: str, text: str) -> None:
        """Report a word for nothing, which counts as nothing."""
        self.report(
            node,
            "null-word",
            path,
            name,
            text,
            "nothing at all where nothing is known",
            "leave the value empty; put quotes round it if it is meant as text",
        )

    def unknown_key(self, table: _Table, name: str, entry: Entry, path: Path) -> str:
        """Report a key that the section does not have; give the key it may have meant, else an empty text."""
        keys = tuple(table.slots)
        here = path_of(path) or "the form"
        elsewhere = sections_with(name, table.name)
        near = suggest_key(name, keys)
        if elsewhere and (near is None or name in keys):
            remedy = f"{name} belongs in {_either(elsewhere)}"
        elif near:
            remedy = f"write {near}"
        elif "remarks" in keys:
            remedy = "put it into remarks, in words, or leave it out"
        else:
            remedy = "leave it out, or put it into the remarks of a section that has them"
        self.report(entry, "unknown-key", path, "", name, f"a field of {here}", remedy)
        return near or ""

    def items(self, slot: _Slot, entry: Entry, path: Path, written: dict[str, Written]) -> tuple[Any, ...]:
        """Read a list of values or of sections."""
        node = entry.value
        if type(node) is Items and _is_left_blank(node):
            return ()
        written[slot.name] = Written(node.line, node.column, "")
        if type(node) is Refused:
            return ()
        if type(node) is not Items:
            read = node.text if isinstance(node, Scalar) else "a section"
            example = f"- {shown(node.text)}" if isinstance(node, Scalar) else "- before its first key"
            if isinstance(node, Scalar) and slot.table is not None:
                example = f"- {next(iter(slot.table.slots))}: ..."
            self.report(
                node,
                "expected-list",
                path,
                slot.name,
                read,
                "a list, each item on a line of its own that begins with -",
                f"write {example} on the line below {slot.name}:",
            )
            node = Items([node], node.line, node.column)
        return tuple(self.each_item(slot, node, path, written))

    def each_item(self, slot: _Slot, node: Items, path: Path, written: dict[str, Written]) -> Iterator[Any]:
        """Read the items of a list; empty ones and those that cannot be read are left out."""
        index = 0
        for item in node.items:
            here: Path = (*path, slot.name, index)
            value = None
            if type(item) is Refused:
                continue
            if type(item) is Scalar and item.plain and item.text == "":
                self.nothing(item, here)
            elif slot.table is not None:
                if type(item) is Section:
                    value = self.section(slot.table, item, here)
                    if value is None:
                        self.nothing(item, here)
                else:
                    self.not_a_section(item, here, slot.table)
            elif type(item) is Scalar and slot.read is not None:
                value = self.value(slot, slot.read, item, f"{slot.name}[{index}]", path, written)
            else:
                self.report(item, "expected-value", here, "", "a list or section", "a value", "write - value")
            if value is not None:
                index += 1
                yield value

    def subsection(self, slot: _Slot, table: _Table, entry: Entry, path: Path) -> Any:
        """Read a section that stands under a key."""
        node = entry.value
        here = (*path, slot.name)
        if type(node) is Items and len(node.items) == 1 and type(node.items[0]) is Section:
            self.report(
                node,
                "expected-section",
                here,
                "",
                "a list",
                "a section, key: value",
                "delete the - before its first key",
            )
            return self.section(table, node.items[0], here)
        if type(node) is Section:
            if not node.entries:
                self.nothing(node, here)
            return self.section(table, node, here)
        if type(node) is not Refused:
            self.not_a_section(node, here, table)
        self.written[here] = {"": Written(node.line, node.column, "")}
        return None

    def not_a_section(self, node: Node, path: Path, table: _Table) -> None:
        """Report a value or list where a section belongs."""
        read = node.text if isinstance(node, Scalar) else "a list"
        key = next(iter(table.slots))
        self.report(
            node,
            "expected-section",
            path,
            "",
            read,
            "a section, key: value",
            f"write {key}: and its other keys, each on a line of its own",
        )

    def nothing(self, node: Node, path: Path) -> None:
        """Report a section or an item of a list that holds nothing."""
        self.report(
            node, "empty-section", path, "", "nothing", "values, or no such entry", "fill it in or delete it"
        )


def _is_left_blank(node: Items) -> bool:
    """Say whether a list holds the entries of the blank form alone, with nothing filled in."""
    return _is_hollow(node) and any(type(item) is Section and item.entries for item in node.items)


def _is_hollow(node: Node) -> bool:
    """Say whether there is no value anywhere in a node."""
    if type(node) is Scalar:
        return not node.text.strip()
    if type(node) is Items:
        return all(map(_is_hollow, node.items))
    return type(node) is Section and all(_is_hollow(entry.value) for entry in node.entries.values())


def _either(names: tuple[str, ...]) -> str:
    """Name up to four sections."""
    shown_names = [name or "the form itself" for name in names[:4]]
    if len(shown_names) == 1:
        return shown_names[0]
    return ", ".join(shown_names[:-1]) + " or " + shown_names[-1]
