"""How far a long command is, for people who watch it."""

import sys
from collections.abc import Callable

import click

WIDTH = 40
"""Characters of the bar."""


def progress_bar() -> Callable[[int, int], None] | None:
    """Give what draws the bar on stderr; None where that is no terminal."""
    return draw if sys.stderr.isatty() else None


def draw(done: int, total: int) -> None:
    """Draw how many of the forms are done over the last drawing, and wipe it when all are."""
    filled = WIDTH * done // max(total, 1)
    text = f"{'#' * filled}{'.' * (WIDTH - filled)} {done} of {total} forms"
    click.echo(f"\r{text}" if done < total else f"\r{' ' * len(text)}\r", nl=False, err=True)
