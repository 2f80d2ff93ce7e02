"""What to say of a value, list or section that does not fit its place in the form."""

import math

from registry.forms.finding import Finding
from registry.forms.measures import quantity_read, range_of
from registry.forms.nodes import Entry, Items, Node, Scalar
from registry.forms.shown import shown
from registry.forms.tables import Slot, Table
from registry.forms.values import NULL_WORDS
from registry.units import unit_of


def start_from(form_name: str) -> str:
    """Say how to begin a form of this name."""
    return f"start from a blank form, which says form: {form_name}"


def has_no_colon(name: str, entry: Entry) -> bool:
    """Say whether a key between braces is none: what stands behind a comma in an unquoted text."""
    value = entry.value
    return (
        isinstance(value, Scalar)
        and not value.text
        and (value.line, value.column) == (entry.line, entry.column + len(name))
    )


COMMA = "a comma between { } begins a new key: put quotes round a text that holds one"
SECTION = "a section: key: value, each key on a line of its own"
NOTHING = Finding(
    "empty-section", "nothing", "something filled in, or no such entry", "fill it in or delete it"
)


def form_finding(read: str, remedy: str, form_name: str) -> Finding:
    """Tell of a file that does not say it is the form of this name."""
    return Finding("unknown-form", read, f"form: {form_name}", remedy)


def after_hash(text: str, rest: str) -> Finding:
    """Tell of words behind a #, which are not kept."""
    remedy = "put quotes round the whole text if what follows belongs to it, else a space behind the #"
    return Finding("text-after-hash", f"{text}, without {rest}", "nothing right behind the #", remedy)


def null_word(text: str) -> Finding:
    """Tell of a word for nothing, which counts as nothing."""
    remedy = "leave the value empty; put quotes round it if it is meant as text"
    return Finding("null-word", text, "nothing at all where nothing is known", remedy)


def unusual(text: str, value: float, slot: Slot) -> Finding:
    """Tell of a value that few bells have."""
    unit = unit_of(slot.field.name) or "number"
    low, high = slot.usual or (-math.inf, math.inf)
    return Finding(
        "unusual-value",
        quantity_read(text, value, unit),
        f"usually {range_of(low, high, unit)}",
        "check the reading and its unit; if it is right, leave it",
    )


def not_a_value(node: Node) -> Finding:
    """Tell of a list or section where a single value belongs; a text may have looked like one."""
    read, signs = ("a list", "[ or -") if isinstance(node, Items) else ("a section", "{, or holds a colon")
    remedy = f"write one value; put quotes round a text that begins with {signs}"
    return Finding("expected-value", read, "a single value", remedy)


def not_a_section(node: Node, table: Table) -> Finding:
    """Tell of a value or list where a section belongs."""
    read = node.text if isinstance(node, Scalar) else "a list"
    key = next(iter(table.slots))
    return Finding("expected-section", read, SECTION, f"begin with {key}: and put its other keys below")


def not_a_list(node: Node, slot: Slot) -> Finding:
    """Tell of a value or section where a list belongs."""
    expected = "a list, each item on a line of its own that begins with -"
    if isinstance(node, Scalar) and node.text.casefold() in NULL_WORDS:
        return Finding("expected-list", node.text, expected, "write [] for none at all")
    if slot.table is not None:
        read = node.text if isinstance(node, Scalar) else "a section"
        first = next(iter(slot.table.slots))
        return Finding("expected-list", read, expected, f"put - and a space before the first key: - {first}:")
    if isinstance(node, Scalar):
        return Finding("expected-list", node.text, expected, f"write [{shown(node.text)}]")
    return Finding("expected-list", "a section", expected, "write - value")
