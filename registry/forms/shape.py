"""The tree of a form made typed sections, every value by the kind of its field."""

from collections.abc import Iterator
from typing import Any, NamedTuple

from registry.forms import advice
from registry.forms.finding import Finding, Spot
from registry.forms.nodes import Entry, Items, Node, Refused, Scalar, Section
from registry.forms.reader import Tree
from registry.forms.shown import path_of
from registry.forms.source import hash_lines
from registry.forms.suggest import advice_on_key, suggest_key
from registry.forms.tables import Slot, Table, hollow, table_of
from registry.forms.values import FAULTS, NOT_TEXT, NULL_WORDS
from registry.model.survey import FORM_NAME, Path, ReadSurvey, Survey, Written
from registry.problems import Level, Problem


class Shaped(NamedTuple):
    """What a form says. Where ``problems`` hold an error, values that could not be read are None in it.

    ``is_form`` is False where the file says that it is another form, or seems to be none.
    """

    read: ReadSurvey
    problems: list[Problem]
    is_form: bool


def shape_survey(tree: Tree, file: str) -> Shaped:
    """Type every value of a form by its field and report what does not fit."""
    survey, written, problems = shape_form(tree, file, Survey, FORM_NAME)
    if survey is None:
        return Shaped(ReadSurvey(hollow(Survey), {}), problems, is_form=False)
    return Shaped(ReadSurvey(survey, written), problems, is_form=True)


def shape_form(
    tree: Tree, file: str, whole: Any, form_name: str
) -> tuple[Any, dict[Path, dict[str, Written]], list[Problem]]:
    """Type every value of a form of some kind.

    Parameters
    ----------
    tree : Tree
        What was read of the file.
    file : str
        Its name for the problems.
    whole : section class
        The section that is the whole form.
    form_name : str
        What its key ``form`` says.

    Returns
    -------
    tuple
        The form (None where the file is another one), its values as written, and the problems.
    """
    shaper = _Shaper(file, tree, whole, form_name)
    root = tree.root
    if not isinstance(root, Section) or not shaper.is_this_form(root):
        if tree.complete and not isinstance(root, Section | None):
            shaper.report(root, (), advice.form_finding("no keys", advice.start_from(form_name), form_name))
        return None, {}, shaper.problems
    body = Section({name: entry for name, entry in root.entries.items() if name != "form"}, *root[1:])
    return shaper.section(table_of(whole, ""), body, ()), shaper.written, shaper.problems


class _Here(NamedTuple):
    """The section being read: where it stands, and its values as written."""

    path: Path
    written: dict[str, Written]

    def steps(self, name: str) -> Path:
        """Give the path of a field here, or of an item in one: ``readings[0]``."""
        field, _, index = name.partition("[")
        return (*self.path, field, int(index[:-1])) if index else (*self.path, name)


class _Shaper:
    """Reads the sections of one form."""

    def __init__(self, file: str, tree: Tree, whole: Any, form_name: str) -> None:
        self.file = file
        self.keys: tuple[str, ...] = whole._fields
        self.form_name = form_name
        self.is_complete = tree.complete
        self.hash_lines = hash_lines(tree.text)
        self.problems: list[Problem] = []
        self.written: dict[Path, dict[str, Written]] = {}
        self.failed: set[tuple[Path, str]] = set()

    def report(self, spot: Spot, path: Path, finding: Finding) -> None:
        """Report a finding at a node or key; the last step of the path may be a field."""
        self.problems.append(finding.at(self.file, spot, path_of(path)))

    def is_this_form(self, root: Section) -> bool:
        """Check the key that says which form this is; say whether the rest can be read as this one."""
        entry = root.entries.get("form")
        if entry is None:
            known = any(name in self.keys for name in root.entries)
            if self.is_complete:
                remedy = advice.start_from(self.form_name)
                self.report(root, ("form",), advice.form_finding("no such key", remedy, self.form_name))
            return known
        node = entry.value
        text = " ".join(node.text.split()) if isinstance(node, Scalar) else ""
        if text == self.form_name:
            return True
        if text.lower() == self.form_name:
            remedy = f"write {self.form_name}, in small letters"
        else:
            remedy = "copy the values into a blank form of this kind; no other kind is read"
        self.report(node, ("form",), advice.form_finding(text or "nothing", remedy, self.form_name))
        return text.lower() == self.form_name

    def section(self, table: Table, node: Section, path: Path) -> Any:
        """Read one section; None where nothing stands in it."""
        values = list(table.empty)
        here = _Here(path, {"": Written(node.line, node.column, "")})
        before = len(self.problems)
        slots = table.slots
        for name, entry in node.entries.items():
            slot = slots.get(name)
            if slot is None:
                self.unknown_key(table, name, entry, here)
            elif slot.is_one_value and type(entry.value) is Scalar:
                values[slot.position] = self.value(slot, entry.value, name, here)
            else:
                values[slot.position] = self.other(slot, entry, here)
        if path and len(self.problems) == before:
            if tuple(values) == table.empty:
                return None
            if _is_only_a_number(table, here.written):
                self.report(node, path, advice.NOTHING)
                return None
        self.written[path] = here.written
        if self.is_complete:
            self.missing(table, node, here, values)
        for slot in table.required_sections:
            if values[slot.position] is None:
                values[slot.position] = hollow(slot.field.section)
        return table.section._make(values)

    def unknown_key(self, table: Table, name: str, entry: Entry, here: _Here) -> None:
        """Report a key that the section does not have."""
        keys = tuple(table.slots)
        finding = advice_on_key(name, table.name, keys)
        if advice.has_no_colon(name, entry):
            finding = finding._replace(remedy=advice.COMMA)
        self.report(entry, (*here.path, name), finding)
        self.failed.add((here.path, suggest_key(name, keys) or ""))

    def missing(self, table: Table, node: Section, here: _Here, values: list[Any]) -> None:
        """Report required fields that are absent or empty, and not merely misspelt or unreadable."""
        for slot in table.required:
            name = slot.field.name
            if values[slot.position] in (None, ()) and (here.path, name) not in self.failed:
                spot: Spot = node.entries.get(name, node)
                remedy = f"fill in {name}"
                if slot.table:
                    remedy += " with " + ", ".join(inner.field.name for inner in slot.table.required)
                finding = Finding("missing-required", "nothing", slot.field.help.rstrip("."), remedy)
                self.report(spot, (*here.path, name), finding)

    def value(self, slot: Slot, node: Scalar, name: str, here: _Here) -> Any:
        """Read one value; None where it is empty, stands for nothing, or is wrong."""
        text = node.text.strip()
        if not text:
            return None
        is_text = slot.is_text
        if is_text and node.plain and text in NOT_TEXT:
            self.report(node, here.steps(name), advice.null_word(text))
            return None
        try:
            value = slot.read(text)
        except FAULTS as fault:
            if text.casefold() in NULL_WORDS:
                self.report(node, here.steps(name), advice.null_word(text))
                return None
            here.written[name] = Written(node.line, node.column, text)
            self.failed.add((here.path, name))
            read = getattr(fault, "read", None) or text
            self.report(node, here.steps(name), Finding(fault.code, read, fault.expected, fault.remedy))
            return None
        here.written[name] = Written(node.line, node.column, "" if is_text else text)
        if is_text and self.hash_lines:
            self.after_hash(node, here.steps(name))
        if (usual := slot.usual) and not usual[0] <= value <= usual[1]:
            self.report(node, here.steps(name), advice.unusual(text, value, slot))
        return value

    def after_hash(self, node: Scalar, path: Path) -> None:
        """Report words behind a #, which YAML drops though they may belong to the text."""
        line = self.hash_lines.get(node.line, "") if node.plain else ""
        rest = line[node.column - 1 :].removeprefix(node.text).lstrip()
        if rest.startswith("#"):
            self.report(node, path, advice.after_hash(node.text, rest))

    def other(self, slot: Slot, entry: Entry, here: _Here) -> Any:
        """Read a list or a section; report one that is missing, and one that has no place here."""
        node, name = entry.value, slot.field.name
        empty = () if slot.field.is_list else None
        if type(node) is Scalar and node.plain and not node.text:
            return empty
        if slot.field.is_list:
            return self.items(slot, node, here)
        here.written[name] = Written(node.line, node.column, "")
        if slot.table is not None and type(node) is not Refused:
            section = self.subsection(slot.table, node, (*here.path, name))
            if section is None and not isinstance(node, Section):
                self.failed.add((here.path, name))
            return section
        self.failed.add((here.path, name))
        if type(node) is Refused:
            return empty
        self.report(node, (*here.path, name), advice.not_a_value(node))
        return empty

    def subsection(self, table: Table, node: Node, path: Path) -> Any:
        """Read a section that stands under a key."""
        if isinstance(node, Items) and len(node.items) == 1 and isinstance(node.items[0], Section):
            finding = Finding(
                "expected-section", "a list", advice.SECTION, "delete the - before its first key"
            )
            self.report(node, path, finding)
            node = node.items[0]
        if isinstance(node, Section):
            if not node.entries and self.is_complete:
                self.report(node, path, advice.NOTHING)
            return self.section(table, node, path)
        self.report(node, path, advice.not_a_section(node, table))
        return None

    def items(self, slot: Slot, node: Node, here: _Here) -> tuple[Any, ...]:
        """Read a list of values or of sections.

        The list itself stands among the values as written where it holds something or is written ``[]``; a
        list whose entries were all left blank does not.
        """
        name = slot.field.name
        before = len(self.problems)
        if type(node) is Refused:
            values: tuple[Any, ...] = ()
        elif isinstance(node, Items):
            values = tuple(self.each_item(slot, node, here))
        else:
            self.report(node, (*here.path, name), advice.not_a_list(node, slot))
            items: list[Node] = [] if slot.table and isinstance(node, Scalar) else [node]
            values = tuple(self.each_item(slot, Items(items, node.line, node.column), here))
        if not values and (type(node) is Refused or self.has_error_since(before)):
            self.failed.add((here.path, name))
        if values or (here.path, name) in self.failed or not isinstance(node, Items) or not node.items:
            here.written[name] = Written(node.line, node.column, "")
        return values

    def has_error_since(self, before: int) -> bool:
        """Say whether an error is among the problems behind the first ``before``."""
        return any(problem.level is Level.ERROR for problem in self.problems[before:])

    def each_item(self, slot: Slot, node: Items, here: _Here) -> Iterator[Any]:
        """Read the items of a list; blank ones and those that cannot be read are left out."""
        index = 0
        for item in node.items:
            path: Path = (*here.path, slot.field.name, index)
            value = None
            if isinstance(item, Refused):
                continue
            if isinstance(item, Scalar) and item.plain and not item.text:
                self.report(item, path, advice.NOTHING)
            elif slot.table is not None:
                if isinstance(item, Section):
                    value = self.section(slot.table, item, path)
                else:
                    self.report(item, path, advice.not_a_section(item, slot.table))
            elif isinstance(item, Scalar):
                name = f"{slot.field.name}[{index}]"
                value = self.value(slot, item, name, here)
                index += (here.path, name) in self.failed
            else:
                self.report(item, path, advice.not_a_value(item))
            if value is not None:
                index += 1
                yield value


def _is_only_a_number(table: Table, written: dict[str, Written]) -> bool:
    """Say whether an entry has its running number and nothing besides, though it needs no more than that."""
    return len(written) == 2 and "number" in written and len(table.required) == 1
