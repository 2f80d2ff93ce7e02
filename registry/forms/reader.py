"""YAML to a tree of nodes that know their line and column, from the events of libyaml.

No scalar is interpreted here: ``no``, ``0123``, ``12:30`` and ``1e3`` stay the text they are, until the field
they stand in says what they mean. What has no place in a form (anchors, aliases, tags, merge keys, second
documents, duplicate keys, absurd depth) is refused.
"""

import unicodedata
from collections.abc import Callable
from typing import Any, NamedTuple, NoReturn

import yaml
from yaml.cyaml import CParser  # type: ignore[attr-defined]
from yaml.events import (
    AliasEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    StreamEndEvent,
)

from registry.forms.finding import Finding
from registry.forms.nodes import Entry, Items, Node, Refused, Scalar, Section, last_scalar, without
from registry.forms.shown import path_of
from registry.forms.source import Place, read_source
from registry.forms.syntax import DEEPEST, TOO_DEEP, syntax_problem
from registry.problems import Problem, whole_file_problem

MOST_NODES = 50_000
"""Values and sections a form may hold; a large ring with every field filled has a tenth of it."""


class Tree(NamedTuple):
    """What could be read of a form.

    ``root`` is None where nothing could. ``complete`` is False where reading stopped before the end: what is
    absent from the tree may well stand in the file.
    """

    root: Node | None
    complete: bool
    problems: list[Problem]
    text: str


class _Stopped(Exception):  # noqa: N818 - not an error of the program
    """Reading cannot go on; the problem is already reported."""


def read_tree(data: bytes, file: str) -> Tree:
    """Read the bytes of a form.

    Parameters
    ----------
    data : bytes
        The file as it is.
    file : str
        Its name for the problems.
    """
    source = read_source(data, file)
    if source.text is None:
        return Tree(None, complete=False, problems=source.problems, text="")
    reader = _Reader(source.text, file, source.problems)
    complete = False
    try:
        reader.read()
        complete = True
    except _Stopped:
        pass
    except yaml.YAMLError as error:
        last = last_scalar(reader.root)
        problem = syntax_problem(error, source.text, file, last)
        if reader.root and last and (not last.plain or last.line == problem.line):
            without(reader.root, last)  # what follows is wrong, so it may be half a value
        reader.problems.append(problem)
    finally:
        reader.dispose()
    return Tree(reader.root, complete, reader.problems, source.text)


class _Reader:
    """Turns the events of one form into nodes."""

    def __init__(self, text: str, file: str, problems: list[Problem]) -> None:
        parser = CParser(text.encode())
        self.dispose: Callable[[], None] = parser.dispose
        self.event: Callable[[], Any] = parser.get_event
        self.file = file
        self.problems = problems
        self.path: list[str | int] = []
        self.root: Node | None = None
        self.nodes = 0
        self.aliases: set[str | None] = set()

    def read(self) -> None:
        """Read the one document of the form."""
        event = self.event
        event()  # stream start
        first = event()
        if type(first) is not StreamEndEvent:
            first = event()  # after the document start
        if type(first) is StreamEndEvent or (
            type(first) is ScalarEvent and not first.value and first.implicit[0]
        ):
            self.problems.append(
                whole_file_problem(
                    self.file, "file-empty", "nothing but comments", "a survey form", "fill in the form"
                )
            )
            raise _Stopped
        self.root = self.start(first)
        self.fill(self.root)
        event()  # document end
        after = event()
        if type(after) is not StreamEndEvent:
            self.stop(after.start_mark, _SECOND_DOCUMENT)

    def start(self, event: Any) -> Node:
        """Make the node that an event begins, still without its contents."""
        self.nodes += 1
        kind = type(event)
        mark = event.start_mark
        if event.anchor is not None or event.tag is not None:
            self.report_feature(event)
        if kind is ScalarEvent:
            return Scalar(event.value, mark.line + 1, mark.column + 1, event.implicit[0])
        if self.nodes > MOST_NODES:
            self.stop(mark, _FULL)
        if kind is AliasEvent:
            return Refused(mark.line + 1, mark.column + 1)
        if len(self.path) >= DEEPEST:
            self.path.clear()
            self.stop(mark, TOO_DEEP)
        if kind is MappingStartEvent:
            return Section({}, mark.line + 1, mark.column + 1)
        return Items([], mark.line + 1, mark.column + 1)

    def fill(self, node: Node) -> None:
        """Read the contents of a section or list."""
        if type(node) is Section:
            self.fill_section(node.entries)
        elif type(node) is Items:
            self.fill_items(node.items)

    def fill_section(self, entries: dict[str, Entry]) -> None:
        """Read keys and values until the section ends."""
        event, start, path = self.event, self.start, self.path
        path.append("")
        while type(key := event()) is not MappingEndEvent:
            mark = key.start_mark
            if is_word := type(key) is ScalarEvent:
                name: str = key.value
                if not name.isascii():
                    name = unicodedata.normalize("NFC", name)
                path[-1] = name
                if key.anchor is not None or key.tag is not None:
                    self.report_feature(key)
            else:
                name = "?"
                self.skip_key(key)
            node = start(event())
            if name in entries:
                self.report(mark, _duplicate(name, entries[name].line))
            elif name == "<<" and key.implicit[0]:
                self.report(mark, _MERGE)
            elif is_word:
                entries[name] = Entry(mark.line + 1, mark.column + 1, node)
            if type(node) is not Scalar:
                self.fill(node)
        path.pop()
        if self.nodes > MOST_NODES:
            self.stop(key.start_mark, _FULL)

    def fill_items(self, items: list[Node]) -> None:
        """Read items until the list ends."""
        event, start, path = self.event, self.start, self.path
        path.append(0)
        while type(value := event()) is not SequenceEndEvent:
            path[-1] = len(items)
            items.append(start(value))
            self.fill(items[-1])
        path.pop()
        if self.nodes > MOST_NODES:
            self.stop(value.start_mark, _FULL)

    def skip_key(self, event: Any) -> None:
        """Report a key that is a section, a list or an alias, and read past it."""
        node = self.start(event)
        if type(node) is not Refused:
            self.report(event.start_mark, _KEY)
            self.fill(node)

    def report(self, mark: Any, finding: Finding) -> None:
        """Report a finding of the place now being read."""
        place = Place(mark.line + 1, mark.column + 1)
        self.problems.append(finding.at(self.file, place, path_of(tuple(self.path))))

    def report_feature(self, event: Any) -> None:
        """Report an anchor, an alias or a tag; an alias once for each anchor."""
        if type(event) is AliasEvent:
            if event.anchor in self.aliases:
                return
            self.aliases.add(event.anchor)
        self.report(event.start_mark, _feature(event))

    def stop(self, mark: Any, finding: Finding) -> NoReturn:
        """Report a finding that ends the reading."""
        self.report(mark, finding)
        raise _Stopped


_IN_FULL = "every value in full"
_MERGE = Finding("yaml-feature", "a merge key (<<)", _IN_FULL, "write the values out")
_KEY = Finding(
    "yaml-feature",
    "a section or list as key",
    "a word as key",
    "write key: value; put quotes round text that begins with { or [",
)
_SECOND_DOCUMENT = Finding(
    "yaml-feature",
    "a second document (---)",
    "one form in a file",
    "put what follows into a file of its own, or delete the line ---",
)
_FULL = Finding(
    "too-many-values",
    f"more than {MOST_NODES} values",
    f"at most {MOST_NODES} values",
    "check that this is a survey form; one form holds one visit to one tower",
)


def _duplicate(name: str, line: int) -> Finding:
    """Tell of a key that stands a second time in its section."""
    return Finding(
        "duplicate-key",
        name,
        f"each key once; this one stands in line {line} already",
        "keep one of the two, or put both into one",
    )


def _feature(event: Any) -> Finding:
    """Tell of an anchor, an alias or a tag."""
    if type(event) is AliasEvent:
        read, sign = f"an alias (*{event.anchor})", "*"
    elif event.anchor is not None:
        read, sign = f"an anchor (&{event.anchor})", "&"
    else:
        read, sign = f"a tag ({event.tag})", "!"
    remedy = f"write the value itself; put quotes round text that begins with {sign}"
    return Finding("yaml-feature", read, _IN_FULL, remedy)
