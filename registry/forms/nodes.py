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


def forget_last(node: Node | None) -> Scalar | None:
    """Drop the value read last and give it: what stands behind it is wrong, so it may be half a value."""
    while isinstance(node, Section | Items):
        if isinstance(node, Section):
            if not node.entries:
                return None
            inner = next(reversed(node.entries.values())).value
            if isinstance(inner, Scalar):
                node.entries.popitem()
        else:
            if not node.items:
                return None
            inner = node.items[-1]
            if isinstance(inner, Scalar):
                node.items.pop()
        node = inner
    return node if isinstance(node, Scalar) else None
