"""Options that take tables of the user's own: from which age bells are kept, and what options cost."""

from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

import click

from registry.derive.condition.costs import read_costs
from registry.derive.condition.protection import read_protection

Table = TypeVar("Table")


def _own(read: Callable[[str], Table]) -> Callable[..., Table | None]:
    """Make the callback of an option that takes a table of the user's own."""

    def read_file(_context: click.Context, _option: click.Parameter, path: Path | None) -> Table | None:
        if path is None:
            return None
        try:
            return read(path.read_text(encoding="utf-8"))
        except ValueError as error:
            raise click.BadParameter(f"{path}: {error}") from error

    return read_file


_own_file = click.Path(path_type=Path, exists=True, dir_okay=False, readable=True)

country_settings_option = click.option(
    "--country-settings",
    "protection",
    type=_own_file,
    callback=_own(read_protection),
    help="YAML: from which age bells are kept, by country, in place of the shipped settings.",
)
costs_option = click.option(
    "--costs",
    type=_own_file,
    callback=_own(read_costs),
    help="YAML: what options cost. No costs without it.",
)
