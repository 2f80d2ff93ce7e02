"""``soundbow serve``: the pages of a registry, for reading only."""

from pathlib import Path

import click

from registry.cli.options import registry_option
from registry.cli.registry_file import opened


@click.command(epilog="\b\nExample:\n  soundbow serve --registry bells.db")
@registry_option()
@click.option(
    "--host",
    default="127.0.0.1",
    show_default=True,
    help="Address to listen on; every other than this one lets other machines in.",
)
@click.option(
    "--port", type=click.IntRange(0, 65535), default=8321, show_default=True, help="0 takes a free one."
)
@click.pass_context
def command(context: click.Context, registry: Path, host: str, port: int) -> None:
    """Show a registry in your browser; stop it with Ctrl-C.

    The pages can be read only. A registry that is loaded anew meanwhile is shown anew.
    """
    with opened(registry):
        pass  # better said here than as an error on every page
    try:
        context.obj.serve(registry, host=host, port=port)
    except OSError as error:
        raise click.ClickException(
            f"cannot serve on {host}, port {port}: {error.strerror or error}. --port 0 takes a free one."
        ) from error
