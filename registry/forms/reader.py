"""YAML to a tree of nodes that know their line and column, from the events of libyaml.

No scalar is interpreted here: ``no``, ``0123``, ``12:30`` and ``1e3`` stay the text they are, until the field
they stand in says what they mean. What has no place in a form (anchors, aliases, tags, merge keys, second
documents, duplicate keys, absurd depth) is refused.
"""

import unicodedata
from collections.abc import Callable
from typing import Any, NamedTuple, NoReturn, TypeAlias, Union

import yaml
from yaml.cyaml import CParser
from yaml.events import (
    AliasEvent,
    MappingEndEvent,
    MappingStartEvent,
    ScalarEvent,
    SequenceEndEvent,
    StreamEndEvent,
)

from registry.forms.shown import path_of, shown
from registry.forms.source import read_source
from registry.forms.syntax import syntax_problem
from registry.problems import Problem, whole_file_problem

DEEPEST = 32
"""Levels a form may be nested; the deepest field stands on the seventh."""

MOST_NODES = 50_000
"""Values and sections a form may hold; a large ring with every field filled has a tenth of it."""


class Scalar(NamedTuple):
    """A value as it stands in the form; ``plain`` if it was neither quoted nor a block."""

    text: str
    line: int
    column: int
    plain: bool


class Items(NamedTuple):
    """A list."""

    items: list["Node"]
    line: int
    column: int


class Section(NamedTuple):
    """A section: keys with their values, in the order of the form."""

    entries: dict[str, "Entry"]
    line: int
    column: int


class Refused(NamedTuple):
    """A value that was refused, and reported where it stands."""

    line: int
    column: int


Node: TypeAlias = Union[Scalar, Items, Section, Refused]  # noqa: UP007 - names defined further down


class Entry(NamedTuple):
    """A value under its key; ``line`` and ``column`` are those of the key."""

    line: int
    column: int
    value: Node


class Tree(NamedTuple):
    """What could be read of a form.

    ``root`` is None where nothing could. ``complete`` is False where reading stopped before the end: what is
    absent from the tree may well stand in the file.
    """

    root: Node | None
    complete: bool
    problems: list[Problem]
    text: str


_WRITE_OUT = ("every value in full", "write the value itself")


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
        return Tree(None, False, source.problems, "")
    reader = _Reader(source.text, file, source.problems)
    try:
        reader.read()
    except _Stopped:
        pass
    except yaml.MarkedYAMLError as error:
        reader.forget_last()
        reader.problems.append(syntax_problem(error, source.text, file))
    else:
        return Tree(reader.root, True, reader.problems, source.text)
    finally:
        reader.dispose()
    return Tree(reader.root, False, reader.problems, source.text)


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
            self.stop(
                after.start_mark,
                "yaml-feature",
                "a second document (---)",
                "one form in a file",
                "put what follows into a file of its own, or delete the line ---",
            )

    def start(self, event: Any) -> Node:
        """Make the node that an event begins, still without its contents."""
        self.nodes += 1
        kind = type(event)
        mark = event.start_mark
        if event.anchor is not None or (kind is not AliasEvent and event.tag is not None):
            self.report_feature(event)
        if kind is ScalarEvent:
            return Scalar(event.value, mark.line + 1, mark.column + 1, event.implicit[0])
        if self.nodes > MOST_NODES:
            self.stop_full(mark)
        if kind is AliasEvent:
            return Refused(mark.line + 1, mark.column + 1)
        if len(self.path) >= DEEPEST:
            self.stop(
                mark,
                "too-deep",
                f"level {DEEPEST + 1}",
                f"at most {DEEPEST} levels",
                "lay the form out as the blank form does",
            )
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
        while True:
            key = event()
            kind = type(key)
            if kind is MappingEndEvent:
                break
            mark = key.start_mark
            name = key.value if kind is ScalarEvent else self.skip_key(key)
            if not name.isascii():
                name = unicodedata.normalize("NFC", name)
            path[-1] = name
            if kind is ScalarEvent and (key.anchor is not None or key.tag is not None):
                self.report_feature(key)
            node = start(event())
            if name == "<<" and key.implicit[0]:
                self.report(mark, "yaml-feature", "a merge key (<<)", *_WRITE_OUT)
            elif name in entries:
                self.report(
                    mark,
                    "duplicate-key",
                    name,
                    f"each key once; {name} stands in line {entries[name].line} already",
                    "keep one of the two, or put both into one",
                )
            elif kind is ScalarEvent:
                entries[name] = Entry(mark.line + 1, mark.column + 1, node)
            if type(node) is not Scalar:
                self.fill(node)
        path.pop()
        if self.nodes > MOST_NODES:
            self.stop_full(key.start_mark)

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
            self.stop_full(value.start_mark)

    def skip_key(self, event: Any) -> str:
        """Report a key that is a section, a list or an alias, and read past it."""
        node = self.start(event)
        if type(node) is not Refused:
            self.report(
                event.start_mark,
                "yaml-feature",
                "a section or list as key",
                "a word as key",
                'write "key: value"; put quotes round text that begins with { or [',
            )
            self.fill(node)
        return "?"

    def report(self, mark: Any, code: str, read: str, expected: str, remedy: str) -> None:
        """Report a problem of the place now being read."""
        path = path_of(tuple(self.path))
        self.problems.append(
            Problem(self.file, mark.line + 1, mark.column + 1, code, path, shown(read), expected, remedy)
        )

    def report_feature(self, event: Any) -> None:
        """Report an anchor, an alias or a tag."""
        if type(event) is AliasEvent:
            read, sign = f"an alias (*{event.anchor})", "*"
        elif event.anchor is not None:
            read, sign = f"an anchor (&{event.anchor})", "&"
        else:
            read, sign = f"a tag ({event.tag})", "!"
        expected, remedy = _WRITE_OUT
        self.report(
            event.start_mark,
            "yaml-feature",
            read,
            expected,
            f"{remedy}; put quotes round text that begins with {sign}",
        )

    def stop(self, mark: Any, code: str, read: str, expected: str, remedy: str) -> NoReturn:
        """Report a problem that ends the reading."""
        self.report(mark, code, read, expected, remedy)
        raise _Stopped

    def stop_full(self, mark: Any) -> NoReturn:
        """Stop where the form holds more than any survey."""
        self.stop(
            mark,
            "too-many-values",
            f"more than {MOST_NODES} values",
            f"at most {MOST_NODES} values",
            "check that this is a survey form; one form holds one visit to one tower",
        )

    def forget_last(self) -> None:
        """Drop the value read last: what stands behind it is not well formed, so it may be half a value."""
        node = self.root
        while type(node) is Section or type(node) is Items:
            values: Any = node.entries if type(node) is Section else node.items
            if not values:
                return
            last = next(reversed(values)) if type(node) is Section else -1
            inner = values[last].value if type(node) is Section else values[last]
            if type(inner) is Scalar:
                del values[last]
                return
            node = inner
