"""``soundbow demo``: the invented sample district, loaded and shown."""

import socket
from pathlib import Path

import click

from registry.cli.load import summary
from registry.cli.progress import progress_bar
from registry.cli.serve import command as serve
from registry.intake import load
from registry.intake.sample_recordings import make_recordings
from registry.resources import copy_missing, shipped_folder

PORT = 8321
HOST = "127.0.0.1"
LOADED = ("surveys", "vellmark.geojson", "founders.yaml")
"""What of the sample data is loaded: forms, regions, founders."""
SHOWN = (*LOADED, "README.md")
"""What of it is copied; the faulty forms stay where they are."""


@click.command(epilog="\b\nExample:\n  soundbow demo")
@click.option(
    "--folder",
    type=click.Path(path_type=Path, file_okay=False),
    default="demo",
    show_default=True,
    help="Where the forms are copied and the registry is made.",
)
@click.option(
    "--port", type=click.IntRange(0, 65535), help=f"Unless given, {PORT} or, where that is taken, a free one."
)
@click.option("--no-serve", is_flag=True, help="Load only.")
@click.pass_context
def command(context: click.Context, folder: Path, port: int | None, no_serve: bool) -> None:
    """Load an invented district of towers and bells, and show it in your browser.

    The forms are copied into the folder: change one, load it again, and look what the pages make of it.
    Recordings that they name are made there from the partials they list.
    """
    sample = shipped_folder("sample_data")
    for name in SHOWN:
        copy_missing(sample / name, folder / name)
    registry = folder / "registry.db"
    forms = folder / LOADED[0]
    make_recordings(forms)
    report = load([folder / name for name in LOADED], registry, progress=progress_bar())
    click.echo("\n".join(summary(report, registry)))
    if report.problems:
        click.echo(f"The forms have {len(report.problems)} things to look at: soundbow check {forms}")
    if no_serve:
        click.echo(f"Show it: soundbow serve --registry {registry}")
        return
    context.invoke(serve, registry=registry, host=HOST, port=free_port() if port is None else port)


def free_port() -> int:
    """Give the usual port, or 0 for any free one where it is taken."""
    with socket.socket() as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((HOST, PORT))
        except OSError:
            return 0
    return PORT
