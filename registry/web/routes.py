"""Which address leads to which page."""

import logging
import re
import sqlite3
from collections.abc import Awaitable, Callable
from typing import Any
from urllib.parse import parse_qs

from datasette.utils import actor_matches_allow
from datasette.utils.asgi import Response

from registry.web import (
    page_about,
    page_bell,
    page_bells,
    page_data,
    page_formulas,
    page_founders,
    page_home,
    page_identify,
    page_lost,
    page_map,
    page_regions,
    page_report,
    page_statistics,
    page_survey,
    page_timeline,
    page_towers,
    page_work,
    rendering,
)
from registry.web.asking import Ask
from registry.web.context import NotHereError, SenselessError
from registry.web.registry_database import OtherSchemaError, RegistryDatabase, RegistryGoneError

LOG = logging.getLogger("registry.web")

ID = r"(?P<id>[a-z0-9]+(?:-[a-z0-9]+)*)"
TABLE = r"(?P<name>[a-z]+(?:_[a-z]+)*)"
MOST_ARGUMENTS = 200

OTHER_SCHEMA = (
    "This registry was made by another version of the program. Load forms into it once more: it is then "
    "built anew from the forms it holds."
)

Page = Callable[[sqlite3.Connection, Ask], Response]
View = Callable[[RegistryDatabase, Ask], Awaitable[Any]]

PAGES: tuple[tuple[str, Page], ...] = (
    (r"/$", page_home.home_page),
    (r"/towers$", page_towers.towers_page),
    (rf"/tower/{ID}$", page_towers.tower_page),
    (r"/bells$", page_bells.bells_page),
    (r"/bells\.csv$", page_bells.bells_csv),
    (r"/bells\.json$", page_bells.bells_json),
    (r"/bells\.geojson$", page_bells.bells_geojson),
    (rf"/bell/{ID}$", page_bell.bell_page),
    (rf"/survey/{ID}$", page_survey.survey_page),
    (rf"/survey/{ID}\.yaml$", page_survey.survey_form),
    (rf"/report/bell/{ID}$", page_report.bell_report),
    (rf"/report/tower/{ID}$", page_report.tower_report),
    (rf"/report/survey/{ID}$", page_report.survey_report),
    (rf"/photo/{ID}\.(?P<number>[0-9]{{1,4}})\.(?P<ending>[a-z]+)$", page_report.photo),
    (r"/formulas$", page_formulas.formulas_page),
    (rf"/formula/{ID}$", page_formulas.formula_page),
    (r"/work$", page_work.work_page),
    (r"/work\.csv$", page_work.work_csv),
    (r"/inspections\.csv$", page_work.inspections_csv),
    (r"/inspections\.ics$", page_work.inspections_calendar),
    (r"/identify$", page_identify.identify_page),
    (r"/identify\.json$", page_identify.identify_json),
    (r"/twins$", page_identify.twins_page),
    (r"/map$", page_map.map_page),
    (r"/timeline$", page_timeline.timeline_page),
    (r"/statistics$", page_statistics.statistics_page),
    (r"/statistics/(?P<name>[a-z]+)\.(?P<format>csv|json)$", page_statistics.statistics_file),
    (r"/regions$", page_regions.regions_page),
    (rf"/region/{ID}$", page_regions.region_page),
    (r"/lost$", page_lost.lost_page),
    (r"/founders$", page_founders.founders_page),
    (rf"/founder/{ID}$", page_founders.founder_page),
    (r"/about$", page_about.about_page),
    (r"/data$", page_data.data_page),
    (rf"/data/{TABLE}$", page_data.table_page),
)
"""Pages that are made from one look into the registry."""

STREAMS = rf"/data/{TABLE}\.(?P<format>csv|json)$"
ASSETS = r"/assets/(?P<name>[a-z]+\.[a-z]+)$"
ICON = r"/favicon\.ico$"

_OURS = tuple(re.compile(pattern) for pattern in (*(pattern for pattern, _ in PAGES), STREAMS, ASSETS, ICON))


def is_ours(path: str) -> bool:
    """Say whether a path, below ``base_url``, has the form of one of our addresses."""
    return any(pattern.match(path) for pattern in _OURS)


def routes_for(database: RegistryDatabase | None) -> list[tuple[str, Callable[..., Any]]]:
    """Give the routes that show a registry; none where there is none."""
    if database is None:
        return []
    views = [(pattern, _served(database, _from_one_look(page))) for pattern, page in PAGES]
    return [
        *views,
        (STREAMS, _served(database, _stream)),
        (ASSETS, _served(database, _asset)),
        (ICON, _served(database, _icon)),
    ]


def _from_one_look(page: Page) -> View:
    """Make a page within one call on one connection, so that all of it is of the same load."""

    async def view(database: RegistryDatabase, ask: Ask) -> Response:
        return await database.execute_fn(lambda conn: page(conn, ask))

    return view


async def _stream(database: RegistryDatabase, ask: Ask) -> page_data.TableStream:
    return page_data.TableStream(database, ask, ask.names["format"])


async def _asset(database: RegistryDatabase, ask: Ask) -> Response:  # noqa: ARG001 - every view takes both
    name = ask.names["name"]
    if name not in rendering.ASSETS:
        raise NotHereError
    data, mark = rendering.asset(name)
    forever = "public, max-age=31536000, immutable"
    headers = {"cache-control": forever if ask.one("v") == mark else "no-cache"}
    return Response(data, 200, headers, rendering.ASSETS[name])


async def _icon(database: RegistryDatabase, ask: Ask) -> Response:
    return await _asset(database, ask._replace(names={"name": "bell.svg"}, args={}))


def _served(database: RegistryDatabase, view: View) -> Callable[..., Any]:
    """Turn a view of ours into one of Datasette's; whatever goes wrong becomes a page that says so."""

    async def serve(request: Any, datasette: Any) -> Any:
        args = parse_qs(request.query_string, keep_blank_values=True)
        path = request.scope.get("route_path", request.path)
        origin = f"{request.scheme}://{request.host}" if request.host else ""
        ask = Ask(path, request.url_vars, args, datasette.setting("base_url"), origin)
        if not _may_read(datasette, request.actor, database.name):
            return rendering.refusal(datasette, 403)
        if sum(map(len, args.values())) > MOST_ARGUMENTS:
            return rendering.refusal(datasette, 404)
        try:
            return await view(database, ask)
        except Exception as error:
            status, message = _refused(error, path)
            return rendering.refusal(datasette, status, message)

    return serve


def _refused(error: Exception, path: str) -> tuple[int, str]:
    """Say which refusal an error becomes, and in which words; what is our fault is written to the log."""
    match error:
        case NotHereError():
            return 404, ""
        case SenselessError():
            return 400, f"This question makes no sense. {error}."
        case OtherSchemaError():
            LOG.warning("%s has the tables of another version", error)
            return 503, OTHER_SCHEMA
        case RegistryGoneError():
            LOG.warning("%s is no registry that can be read", error)
            return 503, ""
        case sqlite3.OperationalError() if str(error) == "interrupted":
            LOG.warning("%s took too long", path)
            return 503, ""
    LOG.error("no page for %s", path, exc_info=error)
    return 500, ""


def _may_read(datasette: Any, actor: Any, name: str) -> bool:
    """Respect what whoever runs Datasette allows: ``allow`` of the instance and of the database."""
    blocks = (datasette.metadata("allow"), datasette.metadata("allow", database=name))
    return all(block is None or actor_matches_allow(actor, block) for block in blocks)
