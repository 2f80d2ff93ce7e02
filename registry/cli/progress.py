"""How far a long command is, for people who watch it."""

import sys
from collections.abc import Callable
from functools import partial

import click

WIDTH = 40
"""Characters of the bar."""


def progress_bar(what: str = "forms") -> Callable[[int, int], None] | None:
    """Give what draws the bar on stderr; None where that is no terminal."""
    return partial(draw, what=what) if sys.stderr.isatty() else None


def draw(done: int, total: int, what: str = "forms") -> None:
    """Draw how many of what there is are done over the last drawing, and wipe it when all are."""
    filled = WIDTH * done // max(total, 1)
    text = f"{'#' * filled}{'.' * (WIDTH - filled)} {done} of {total} {what}"
    click.echo(f"\r{text}" if done < total else f"\r{' ' * len(text)}\r", nl=False, err=True)
