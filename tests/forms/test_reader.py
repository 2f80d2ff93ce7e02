"""YAML read to a tree: text stays text, places are those of an editor, and what has no place is refused."""

import pytest
import yaml

from registry.forms.nodes import Entry, Items, Refused, Scalar, Section
from registry.forms.reader import MOST_NODES, read_tree
from registry.forms.syntax import DEEPEST, syntax_problem


def root_of(text: str | bytes):
    """Read a text that must be readable and give its tree."""
    tree = read_tree(text if isinstance(text, bytes) else text.encode(), "f")
    assert not tree.problems
    assert tree.complete
    return tree.root


def problems_of(text: str | bytes) -> list[tuple[str, int, int]]:
    """Read a text and give code, line and column of what is wrong with it."""
    tree = read_tree(text if isinstance(text, bytes) else text.encode(), "f")
    return [(problem.code, problem.line, problem.column) for problem in tree.problems]


@pytest.mark.parametrize(
    "text",
    ["no", "NO", "on", "y", "~", "null", "0123", "0o17", "08012", "12:30", "12:30:45", "1_000", "1e3", "1.10",
     "=", "2024-05-14", "1892-13-45", ".5", "+5", "-0", ".inf", "0x1F", "9" * 5000],
)  # fmt: skip
def test_scalars_stay_text(text) -> None:
    """No scalar is taken for a number, a day or a truth value by its look."""
    assert root_of(f"a: {text}\n").entries["a"].value.text == text


@pytest.mark.parametrize(("text", "plain"), [("x", True), ("'x'", False), ('"x"', False), ("|\n  x", False)])
def test_plain_scalars_are_told_from_others(text, plain) -> None:
    """The tree knows whether a value was quoted or a block."""
    assert root_of(f"a: {text}\n").entries["a"].value.plain is plain


def test_places_of_keys_and_values() -> None:
    """Key and value, section and list each know their line and column, counted from 1."""
    root = root_of("a: x\nb:\n  c: [y, 'z']\n  d:   |\n    text\n")
    assert root.entries["a"] == Entry(1, 1, Scalar("x", 1, 4, plain=True))
    inner = root.entries["b"].value
    assert (inner.line, inner.column) == (3, 3)
    assert inner.entries["c"].value == Items(
        [Scalar("y", 3, 7, plain=True), Scalar("z", 3, 10, plain=False)], 3, 6
    )
    assert inner.entries["d"].value == Scalar("text\n", 4, 8, plain=False)


@pytest.mark.parametrize(
    ("data", "place"),
    [
        (b"\xef\xbb\xbfa: x\nb: y\n", (2, 4)),  # a byte order mark is no column
        (b"\xef\xbb\xbfb: y\n", (1, 4)),
        (b"a: x\r\nb: y\r\n", (2, 4)),
        (b"a: x\rb: y\r", (2, 4)),
        ("a: größte\nb: y\n".encode(), (2, 4)),
        ("gr: 🔔\nb: y".encode(), (2, 4)),
        ("{a: äöü, b: y}".encode(), (1, 13)),  # characters, not bytes
        ("{a: 🔔🔔, b: y}".encode(), (1, 12)),
    ],
)
def test_places_are_those_of_an_editor(data, place) -> None:
    """Byte order marks, all kinds of line end and long characters do not shift a place."""
    value = root_of(data).entries["b"].value
    assert (value.line, value.column) == place


@pytest.mark.parametrize("odd", ["\u0085", "\u2028", "\u2029"])
def test_odd_line_ends_are_no_lines(odd) -> None:
    """What YAML 1.1 counts as a line end and editors do not is refused; lines below keep their numbers."""
    assert problems_of(f"a: x{odd} y\nb: z\nb: z\n") == [("control-character", 1, 5), ("duplicate-key", 3, 1)]


def test_keys_are_composed() -> None:
    """A key typed with a combining accent is the same key as the composed one."""
    assert list(root_of("ho\u0308he: 1\n").entries) == ["h\u00f6he"]
    assert problems_of("h\u00f6he: 1\nho\u0308he: 2\n") == [("duplicate-key", 2, 1)]


def test_first_of_a_duplicate_key_counts() -> None:
    """The value of the first of two equal keys is kept, and the second is reported where it stands."""
    tree = read_tree(b"a: 1\nb: {c: 1, c: 2}\na: [x]\n", "f")
    assert [(one.code, one.line, one.column, one.path) for one in tree.problems] == [
        ("duplicate-key", 2, 11, "b.c"),
        ("duplicate-key", 3, 1, "a"),
    ]
    assert tree.root.entries["a"].value.text == "1"


@pytest.mark.parametrize(
    ("text", "problems"),
    [
        ("a: &x 1\nb: *x\nc: *x\n", [(1, 4), (2, 4)]),  # an alias is told once for its anchor
        ("a: !tag x\n", [(1, 4)]),
        ("a: !!str x\n", [(1, 4)]),
        ("&k a: 1\n", [(1, 1)]),
        ("a: !!binary aGk=\nb: !!set {x}\n", [(1, 4), (2, 4)]),
        ("<<: {b: 1}\n", [(1, 1)]),
        ("? [a]\n: 1\n", [(1, 3)]),
        ("a: &x 0\n*x : 1\n", [(1, 4), (2, 1)]),
        ("a: 1\n---\nb: 2\n", [(2, 1)]),
    ],
)
def test_features_without_a_place_are_refused(text, problems) -> None:
    """Anchors, aliases, tags, merge keys, odd keys and second documents are reported where they stand."""
    assert problems_of(text) == [("yaml-feature", line, column) for line, column in problems]


def test_alias_has_no_value() -> None:
    """Nothing is put in the place of an alias."""
    tree = read_tree(b"a: &x [1]\nb: *x\n", "f")
    assert tree.root.entries["b"].value == Refused(2, 4)


def test_quoted_merge_key_is_a_key() -> None:
    """Two angle brackets in quotes are a key like any other."""
    assert list(root_of("'<<': 1\n").entries) == ["<<"]


@pytest.mark.parametrize(
    "text", ["---\na: 1\n", "a: 1\n...\n", "%YAML 1.1\n---\na: 1\n", "# c\n\n---\na: 1\n...\n"]
)
def test_one_document_may_say_so(text) -> None:
    """The marks round a single document are harmless."""
    assert list(root_of(text).entries) == ["a"]


@pytest.mark.parametrize("text", ["", "\n\n", "# comment\n", "---\n", "---\n...\n"])
def test_empty(text) -> None:
    """A file with nothing in it, or nothing but comments, is reported as a whole."""
    assert problems_of(text) == [("file-empty", 0, 0)]


@pytest.mark.parametrize("inner", ["{a: %s}", "[%s]", "{a: [%s]}"])
def test_depth(inner) -> None:
    """Nesting up to the limit is read; beyond it reading stops with one problem, however deep the file is."""
    levels = inner.count("[") + inner.count("{")

    def nested(times: int) -> str:
        text = "x"
        for _ in range(times):
            text = inner % text
        return text

    assert root_of(nested(DEEPEST // levels))
    for deep in (DEEPEST // levels + 1, 1000, 20_000):
        assert [code for code, _, _ in problems_of(nested(deep))] == ["too-deep"]


def test_block_depth() -> None:
    """Indented sections count as levels too."""
    lines = "".join(f"{' ' * n}a:\n" for n in range(200))
    assert problems_of(lines) == [("too-deep", DEEPEST + 1, DEEPEST + 1)]


@pytest.mark.parametrize(
    "text", ["[" + "x," * MOST_NODES + "]", "\n".join(f"k{n}: 1" for n in range(MOST_NODES + 1))]
)
def test_too_many_values(text) -> None:
    """A file with more values than any survey is refused."""
    assert [code for code, _, _ in problems_of(text)] == ["too-many-values"]


def test_alias_bomb_costs_nothing() -> None:
    """A file that would unfold without end is refused where its anchors and aliases stand."""
    text = "a: &a [x]\n" + "".join(
        f"{b}: &{b} [*{a},*{a}]\n" for a, b in zip("abcdefgh", "bcdefghi", strict=True)
    )
    assert {code for code, _, _ in problems_of(text)} == {"yaml-feature"}


def test_what_was_read_before_a_fault_is_kept() -> None:
    """Where YAML breaks off, the tree holds what came before, but for the value at the edge."""
    tree = read_tree(b"a: 1\nb: {c: 2, d: 3}\ne: 4: 5\n", "f")
    assert not tree.complete
    assert list(tree.root.entries) == ["a", "b"]
    assert [problem.code for problem in tree.problems] == ["yaml-syntax"]


FAULTS = [
    ("a: b: c\n", 1, 5, "quotes"),
    ("a: b\nc d\ne: f\n", 2, 1, "colon"),
    ("a:\n\tb: c\n", 2, 1, "delete the tab"),
    ("a: |\n  x\n\ty: 1\n", 3, 1, "delete the tab"),
    ('a: "x\nb: "y"\n', 1, 4, "close the quotation mark"),
    ("a: 'x\nb: y\n", 1, 4, "close the quotation mark"),
    ('a: "x" y\n', 1, 8, "one pair of quotes"),
    ("a: 'it's'\n", 1, 8, "doubled"),
    ("a: @x\n", 1, 4, "begins with @"),
    ("a: `x`\n", 1, 4, "begins with `"),
    ("a: %x\n", 1, 4, "begins with %"),
    ("a: *** x\n", 1, 5, "begins with * or &"),
    ("a: !ä x\n", 1, 5, "begins with !"),
    ("a: - b\n", 1, 4, "on a new line"),
    ("a: [1, 2\nb: c\n", 1, 4, "close the bracket"),
    ("a: {b: 1\nc: d\n", 1, 4, "close the brace"),
    ("a: {x} y\n", 1, 8, "begins with a bracket"),
    ('a: "\\d"\n', 1, 5, "single quotes"),
    (" a: 1\nb: 2\n", 2, 1, "indent"),
    ("a:\n  b: 2\n c: 3\n", 3, 2, "indentation of this line"),
    ("a: 1\n  b: 2\n", 2, 4, "the one before"),
    ("- a\nb: c\n", 2, 1, "indent"),
    ("%FOO\n---\na: 1", 1, 5, "delete the line"),
    ("a: |x\n", 1, 5, "next line"),
    ('a: "b"\n  c: d\n', 2, 3, "indentation of this line"),
    ("a: ?\n", 1, 4, "begins with ?"),
    ("a: ]x\n", 1, 4, "bracket or comma"),
    ('a: "\\x"\n', 1, 7, "single quotes"),
    ("a: > 5 mm\n", 1, 6, "begins with one of them"),
    ("a: b\n \tc: d\n", 2, 4, "delete the tab"),
    ("%YAML 2.0\n---\na: 1\n", 1, 1, "the parser says"),
]


@pytest.mark.parametrize(("text", "line", "column", "remedy"), FAULTS)
def test_faults_of_yaml_in_plain_language(text, line, column, remedy) -> None:
    """A fault of YAML is reported once, where it lies, with the line that was read and what to do."""
    (problem,) = [one for one in read_tree(text.encode(), "f").problems if one.code == "yaml-syntax"]
    assert (problem.line, problem.column) == (line, column)
    assert remedy in problem.remedy
    assert problem.read == text.splitlines()[line - 1].strip()


def test_fault_that_knows_only_its_position() -> None:
    """An error of the parser that has no mark is told at the character it names, or for the whole file."""
    error = yaml.reader.ReaderError("f", 4, 7, "utf-8", "not allowed")
    problem = syntax_problem(error, "a: 1\nb: 2\n", "f", None)
    assert (problem.line, problem.column, problem.read) == (1, 5, "a: 1")
    problem = syntax_problem(yaml.YAMLError("no idea"), "a: 1\n", "f", None)
    assert (problem.line, problem.column) == (0, 0)
    assert "no idea" in problem.remedy


def test_half_a_value_in_a_list_is_dropped() -> None:
    """Of a list that breaks off, the item at the edge is not kept, the ones before it are."""
    tree = read_tree(b"a:\n  - x\n  - y: z: w\n", "f")
    items = tree.root.entries["a"].value.items
    assert items[0].text == "x"
    assert items[1].entries == {}
    tree = read_tree(b"a: [x, y z\nb: c\n", "f")
    assert [item.text for item in tree.root.entries["a"].value.items] == ["x"]


def test_section_is_not_its_text() -> None:
    """A tree has sections, not dictionaries that hide a second key."""
    assert isinstance(root_of("a: 1\n"), Section)
