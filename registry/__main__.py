"""The command `soundbow`, above the entrances: only here is the command line given the pages to serve."""

from pathlib import Path

from registry.cli.group import run


def serve(registry: Path, *, host: str, port: int) -> None:
    """Serve the pages of a registry until interrupted."""
    from registry.web.app import serve as serve_pages  # noqa: PLC0415 - Datasette takes half a second to import

    serve_pages(registry, host=host, port=port)


def main() -> None:
    """Run the command line."""
    run(serve)


if __name__ == "__main__":
    main()
