"""The command `soundbow`, above the entrances: only here is the command line given pages and papers."""

from pathlib import Path

from registry.cli.entrances import Entrances, Papers
from registry.cli.group import run


def serve(registry: Path, *, host: str, port: int) -> None:
    """Serve the pages of a registry until interrupted."""
    from registry.web.app import serve as serve_pages  # noqa: PLC0415 - Datasette takes half a second to import

    serve_pages(registry, host=host, port=port)


def papers() -> Papers:
    """Give what makes reports, forms to print and calendars."""
    from registry.printing import making  # noqa: PLC0415 - rules, drawings and typesetting are not always needed

    return making


def main() -> None:
    """Run the command line."""
    run(Entrances(serve, papers))


if __name__ == "__main__":
    main()
