"""The read-only pages: a Datasette plugin that shows a registry and nothing else of the database.

Only hooks stand here; each asks first whether one of the databases is a registry, and else stays silent.
"""

import sqlite3
from collections.abc import Callable
from typing import Any

from datasette import hookimpl

from registry.web import guard, registry_database, routes


@hookimpl  # type: ignore[untyped-decorator]
def register_routes(datasette: Any) -> list[tuple[str, Callable[..., Any]]]:
    """Serve our pages, if a registry is among the databases."""
    return routes.routes_for(registry_database.adopt(datasette))


@hookimpl  # type: ignore[untyped-decorator]
def prepare_connection(conn: sqlite3.Connection, database: str, datasette: Any) -> None:
    """Bound what one statement on a registry can cost."""
    registry_database.restrict(conn, database, datasette)


@hookimpl(tryfirst=True)  # type: ignore[untyped-decorator]
def permission_allowed(datasette: Any, resource: Any) -> bool | None:
    """Deny every page of Datasette's own that would show a registry."""
    return guard.permission(datasette, resource)


@hookimpl(trylast=True)  # type: ignore[untyped-decorator]
def asgi_wrapper(datasette: Any) -> Callable[[Any], Any]:
    """Let in what we serve, and set the security headers."""
    return guard.wrapper(datasette)
