"""Options that several commands share, and quantities as surveyors write them."""

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from registry.units import QuantityError, read_quantity

Command = TypeVar("Command", bound=Callable[..., Any])

jobs_option = click.option(
    "--jobs", type=click.IntRange(1, 256), help="Processes; unless given, as many as are worth it."
)
DAY = click.DateTime(["%Y-%m-%d"])
"""A calendar day."""
force_option = click.option("--force", is_flag=True, help="Write over what is there.")


def registry_option(*, required: bool = True, text: str = "The registry.") -> Callable[[Command], Command]:
    """Make the option that names the registry, which may also stand in the environment."""
    return click.option(
        "--registry",
        type=click.Path(path_type=Path, dir_okay=False),
        required=required,
        envvar="SOUNDBOW_REGISTRY",
        show_envvar=True,
        metavar="FILE",
        help=text,
    )


def format_option(*formats: str, text: str | None = None) -> Callable[[Command], Command]:
    """Make the option that chooses how to answer; the first of the formats is the usual one."""
    return click.option(
        "--format",
        "answer_as",
        type=click.Choice(formats),
        default=formats[0],
        show_default=True,
        help=text,
    )


def read_in(unit: str) -> Callable[[click.Context, click.Parameter, str | None], float | None]:
    """Make the callback of an option that takes a number in ``unit``, or with another unit of the same kind.

    Read are ``1180``, ``118 cm`` and ``46 1/2 in`` alike; what cannot be read is wrong usage.
    """

    def read(_context: click.Context, _option: click.Parameter, text: str | None) -> float | None:
        if text is None:
            return None
        try:
            return read_quantity(text, unit)
        except QuantityError as error:
            raise click.BadParameter(f"{text!r}: expected {error.expected}; {error.remedy}.") from error

    return read
