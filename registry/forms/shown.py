"""Text from a form made fit to be shown: short, on one line, and with nothing hidden in it."""

import unicodedata

LONGEST = 72
"""Characters of a value that a report shows."""

_HIDDEN = frozenset(("Cc", "Cf", "Cn", "Cs", "Zl", "Zp", "Zs"))
"""Categories of Unicode that leave no mark on the page, or move others about (direction marks)."""


def shown(text: str, longest: int = LONGEST) -> str:
    r"""Shorten a text and write what cannot be seen in it as ``\x07``, ``\u202e`` or ``\n``.

    A text that was shown already does not change.
    """
    if len(text) > longest:
        text = text[: longest - 1].rstrip() + "…"
    if text.isascii() and text.isprintable():
        return text
    visible = "".join(_escaped(character) for character in text)
    return visible if len(visible) <= 2 * longest else visible[: 2 * longest - 1] + "…"


def _escaped(character: str) -> str:
    """Write one character so that it can be seen."""
    if character == "\n":
        return "\\n"
    if character == "\t":
        return "\\t"
    if character == " " or unicodedata.category(character) not in _HIDDEN:
        return character
    number = ord(character)
    if number < 0x100:
        return f"\\x{number:02x}"
    return f"\\u{number:04x}" if number < 0x10000 else f"\\U{number:08x}"


def path_of(steps: tuple[str | int, ...], field: str = "") -> str:
    """Write where a value stands, in the words of the form: ``bells[2].dimensions.height_mm``.

    Steps count items from 0, as programs do; the text counts from 1, as people do.
    """
    text = ""
    for step in (*steps, field) if field else steps:
        if isinstance(step, int):
            text += f"[{step + 1}]"
        else:
            text += f".{step}" if text else step
    return text
