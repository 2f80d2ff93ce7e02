"""What may come in and what goes out: methods, paths, permissions, headers.

Everything of Datasette's own that would show a registry is closed: the pages here are an allow-list. A
database beside it that is no registry is served by Datasette as if we were not installed.
"""

from collections.abc import Awaitable, Callable
from typing import Any

from datasette.utils import tilde_decode
from datasette.utils.asgi import Response

from registry.web import rendering, routes
from registry.web.registry_database import RegistryDatabase, shown

App = Callable[..., Awaitable[None]]

HEADERS = {
    b"content-security-policy": (
        b"default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self'; connect-src 'self'; "
        b"form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
    ),
    b"x-content-type-options": b"nosniff",
    b"x-frame-options": b"DENY",
    b"referrer-policy": b"same-origin",
    b"cross-origin-opener-policy": b"same-origin",
    b"permissions-policy": b"camera=(), geolocation=(), microphone=()",
}
"""Headers of every answer; those already there under these names are replaced."""

STOCK_ASSETS = ("/-/static/", "/-/static-plugins/")


def permission(datasette: Any, resource: Any) -> bool | None:
    """Deny whatever names a registry or could reach into one; have no opinion on the rest.

    Parameters
    ----------
    resource : str, tuple or None
        Datasette's name for what is asked: a database, a table in one, or nothing.
    """
    if shown(datasette) is None:
        return None
    name = resource[0] if isinstance(resource, tuple) else resource
    if name is None:
        return None if _neighbours(datasette) else False
    if name.startswith("_") or isinstance(datasette.databases.get(name), RegistryDatabase):
        return False
    return None


def wrapper(datasette: Any) -> Callable[[App], App]:
    """Wrap the application of a Datasette that shows a registry; leave that of any other as it is."""
    if shown(datasette) is None:
        return lambda app: app
    return lambda app: _Guard(datasette, app)


class _Guard:
    """The application behind our checks."""

    def __init__(self, datasette: Any, app: App) -> None:
        self.datasette = datasette
        self.app = app

    async def __call__(self, scope: Any, receive: Any, send: Any) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        path = self._route_path(scope)
        if not routes.is_ours(path) and self._is_neighbours(path):
            await self.app(scope, receive, send)
            return
        send = _with_headers(send, without_body=scope["method"] == "HEAD")
        if scope["method"] not in ("GET", "HEAD"):
            await rendering.refusal(self.datasette, 405, headers={"allow": "GET, HEAD"}).asgi_send(send)
        elif routes.is_ours(path):
            await self.app(scope, receive, send)
        elif path.endswith("/") and routes.is_ours(path[:-1]):
            query = scope.get("query_string", b"").decode("latin-1")
            address = self.datasette.urls.path(path[:-1]) + (f"?{query}" if query else "")
            await Response.redirect(address, 301).asgi_send(send)
        else:
            await rendering.refusal(self.datasette, 404).asgi_send(send)

    def _route_path(self, scope: Any) -> str:
        """Give the path below ``base_url``, as it was sent."""
        raw = scope.get("raw_path")
        path: str = raw.decode("latin-1") if raw else scope["path"]
        path = path.partition("?")[0]
        base = self.datasette.setting("base_url")
        if base == "/":
            return path
        # Datasette serves a path without the prefix too: some proxies cut it off.
        return "/" + path[len(base) :] if path.startswith(base) else path

    def _is_neighbours(self, path: str) -> bool:
        """Say whether Datasette itself answers: a database that is no registry, or the files of its pages."""
        neighbours = _neighbours(self.datasette)
        if path.startswith(STOCK_ASSETS):
            return bool(neighbours)
        return tilde_decode(path.split("/")[1].partition(".")[0]) in neighbours


def _neighbours(datasette: Any) -> set[str]:
    """List the databases, by their name in addresses, that someone opened beside the registry."""
    return {
        database.route or name
        for name, database in datasette.databases.items()
        if not name.startswith("_") and not isinstance(database, RegistryDatabase)
    }


def _with_headers(send: Any, *, without_body: bool) -> Any:
    """Wrap ``send`` so that the answer carries our headers, and no body where none was asked for."""

    async def sent(message: Any) -> None:
        if message["type"] == "http.response.start":
            kept = [(key, value) for key, value in message.get("headers", []) if key.lower() not in HEADERS]
            message = {**message, "headers": [*kept, *HEADERS.items()]}
        elif without_body and message["type"] == "http.response.body":
            message = {**message, "body": b""}
        await send(message)

    return sent
