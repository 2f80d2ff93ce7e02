"""Serve one registry: the same pages that plain Datasette shows when this package is installed."""

import socket
import sys
from pathlib import Path
from typing import Any

import registry.web
from registry.problems import InputError, whole_file_problem
from registry.store.database import fingerprint, open_registry, schema_of

SETTINGS = {
    "default_allow_sql": False,
    "allow_download": False,
    "allow_facet": False,
    "suggest_facets": False,
    "allow_csv_stream": False,
    "allow_signed_tokens": False,
    "trace_debug": False,
    "num_sql_threads": 3,
}


def make_app(database_path: Path, *, base_url: str = "/") -> Any:
    """Make the application that shows a registry.

    Parameters
    ----------
    database_path : Path
        The registry.
    base_url : str
        What stands before every address, where a proxy serves the site below a path: ``/bells/``.

    Returns
    -------
    ASGI application

    Raises
    ------
    InputError
        ``file-missing`` or ``not-a-registry``.
    """
    return make_datasette(database_path, base_url=base_url).app()


def make_datasette(database_path: Path, *, base_url: str = "/") -> Any:
    """Make the Datasette behind the application; see :func:`make_app`."""
    _require_readable(database_path)
    from datasette.app import Datasette  # noqa: PLC0415 - Datasette imports its plugins, us among them, first
    from datasette.plugins import pm  # noqa: PLC0415

    if not pm.is_registered(registry.web):
        # A checkout that was not installed has no entry point.
        pm.register(registry.web, name="soundbow")
    settings = {name: value for name, value in SETTINGS.items() if name in _known_settings()}
    return Datasette([str(database_path)], settings={**settings, "base_url": base_url})


def serve(database_path: Path, *, host: str, port: int) -> None:
    """Serve a registry until interrupted, and print its address.

    Parameters
    ----------
    host, port : str, int
        Where to listen; port 0 takes a free one.

    Raises
    ------
    InputError
        ``file-missing`` or ``not-a-registry``.
    OSError
        When the port is taken or the host is not ours.
    """
    app = make_app(database_path)
    import uvicorn  # noqa: PLC0415 - only serving needs it

    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    with socket.socket(family, socket.SOCK_STREAM) as listener:
        listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind((host, port))
        listener.listen(128)
        config = uvicorn.Config(
            app, lifespan="on", server_header=False, log_level="warning", access_log=False
        )
        name = f"[{host}]" if ":" in host else host
        sys.stdout.write(
            f"Serving {database_path} on http://{name}:{listener.getsockname()[1]} - Ctrl-C ends it\n"
        )
        sys.stdout.flush()
        uvicorn.Server(config).run(sockets=[listener])


def _require_readable(path: Path) -> None:
    """Refuse what could show no page: no file, another file, a registry with other tables."""
    connection = open_registry(path)
    try:
        if schema_of(connection) == fingerprint():
            return
    finally:
        connection.close()
    read = "a registry made by another version of this program"
    remedy = "load forms into it once more: it is then built anew from the forms it holds"
    expected = "a registry with the tables of this version"
    raise InputError([whole_file_problem(str(path), "not-a-registry", read, expected, remedy)])


def _known_settings() -> set[str]:
    from datasette.app import DEFAULT_SETTINGS  # noqa: PLC0415 - as above

    return set(DEFAULT_SETTINGS)
