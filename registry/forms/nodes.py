"""The tree of a form: scalars, lists and sections, each with its place."""

from typing import NamedTuple, TypeAlias, Union


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


def last_scalar(node: Node | None) -> Scalar | None:
    """Give the value that was read last, if any."""
    while isinstance(node, Section | Items):
        inner = [entry.value for entry in node.entries.values()] if isinstance(node, Section) else node.items
        if not inner:
            return None
        node = inner[-1]
    return node if isinstance(node, Scalar) else None


def without(node: Node, value: Scalar) -> None:
    """Take the value that was read last out of the tree."""
    while isinstance(node, Section | Items):
        if isinstance(node, Section):
            inner = next(reversed(node.entries.values())).value
            if inner is value:
                node.entries.popitem()
        else:
            inner = node.items[-1]
            if inner is value:
                node.items.pop()
        node = inner
