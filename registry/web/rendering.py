"""Pages as HTML: our templates, the words they share, and the answers of refusal."""

import json
from collections.abc import Mapping
from functools import cache
from hashlib import sha256
from typing import Any

from datasette.utils.asgi import Response
from jinja2 import Environment, PackageLoader, StrictUndefined

import registry
from registry.drawing.map import View, moved
from registry.drawing.svg import DRAWERS
from registry.resources import shipped_folder
from registry.web.asking import Ask
from registry.wording import dates, drawn, judged, words, writing

HTML = "text/html; charset=utf-8"

ASSETS = {
    "soundbow.css": "text/css; charset=utf-8",
    "bell.svg": "image/svg+xml",
}
"""The files our pages load; nothing else is served from our folder."""

REFUSALS = {
    400: ("Not a question", "Something in this address makes no sense."),
    403: ("Not open to you", "Whoever runs this site has closed it to visitors who have not signed in."),
    404: (
        "Nothing here",
        "No page of this registry has this address. Bells, towers and surveys keep theirs.",
    ),
    405: ("Reading only", "This site can be read and nothing else. Send GET or HEAD."),
    500: (
        "Something failed",
        "The page could not be made. The fault is ours, and it was written to the log.",
    ),
    503: ("Not at the moment", "The registry cannot be read right now, or the question took too long."),
}


@cache
def environment() -> Environment:
    """Make the template environment: every value is escaped, and a missing one is an error."""
    made = Environment(
        loader=PackageLoader("registry.web"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters.update({**words.FILTERS, **writing.FILTERS, **dates.FILTERS})
    made.globals.update({**words.GLOBALS, **judged.GLOBALS, **drawn.GLOBALS, **dates.GLOBALS, **DRAWERS})
    made.globals.update(version=registry.__version__)
    return made


@cache
def asset(name: str) -> tuple[bytes, str]:
    """Read one of our files; give it with a mark that changes when it does."""
    data = (shipped_folder("web") / "static" / name).read_bytes()
    return data, sha256(data).hexdigest()[:12]


def page(ask: Ask, template: str, content: Any, status: int = 200) -> Response:
    """Make a page from the template of this name and its content, a dataclass."""
    text = (
        environment()
        .get_template(f"soundbow/{template}.html")
        .render(page=content, ask=ask, url=ask.url, asset=_asset_address(ask), closer=_closer(ask))
    )
    return Response(text, status, {"cache-control": "no-cache"}, HTML)


def as_json(data: Any, status: int = 200) -> Response:
    """Make an answer of JSON."""
    text = json.dumps(data, ensure_ascii=False, indent=1, allow_nan=False) + "\n"
    return Response(text, status, {"cache-control": "no-cache"}, "application/json; charset=utf-8")


def refusal(
    datasette: Any, status: int, message: str = "", headers: Mapping[str, str] | None = None
) -> Response:
    """Make a page that says why there is none."""
    ask = Ask("", {}, {}, datasette.setting("base_url"))
    title, text = REFUSALS[status]
    made = page(ask, "refusal", {"status": status, "title": title, "message": message or text}, status)
    made.headers.update(headers or {})
    return made


def _asset_address(ask: Ask) -> Any:
    return lambda name: ask.url(f"/assets/{name}", {"v": asset(name)[1]})


def _closer(ask: Ask) -> Any:
    """Give the function that leads from a group on a map to a map of its members."""
    return lambda bounds: ask.url("/map", {"bbox": around(bounds).as_text()})


def around(bounds: tuple[float, float, float, float]) -> View:
    """Give a view a little larger than the bounds (west, south, east, north) of a group of towers."""
    west, south, east, north = bounds
    return moved(View(west, south - 1e-6, east + 1e-6, north + 1e-6), zoom=0.7)
