"""What comes in and what goes out: methods, paths, headers, and nothing of Datasette's own."""

import asyncio
import re
import sqlite3
from pathlib import Path

import pytest
from datasette.app import Datasette
from datasette.plugins import pm

import registry.web
from registry.problems import InputError
from registry.store.database import create_schema
from registry.web.app import make_app, make_datasette
from registry.web.guard import HEADERS

EVERY_KIND = (
    "/", "/towers", "/bell/hill-church-tom", "/survey/hill-church-2024.yaml", "/bells.json", "/bells.csv",
    "/data/derived.csv", "/data/derived.json", "/assets/soundbow.css", "/favicon.ico", "/nothing", "/towers/",
    "/-/versions.json", "/small",
)  # fmt: skip

CLOSED = (
    "/small", "/small.json", "/small/bell", "/small/bell.json", "/small/bell/x", "/small/source.csv",
    "/small?sql=select+1", "/small.json?sql=select+1", "/small.db", "/_memory", "/_memory?sql=select+1",
    "/_internal", "/_internal/databases", "/.json", "/-/metadata.json", "/-/databases.json", "/-/versions",
    "/-/threads.json", "/-/plugins.json", "/-/settings.json", "/-/config.json", "/-/messages",
    "/-/actor.json", "/-/permissions", "/-/allow-debug", "/-/patterns", "/-/auth-token?token=x",
    "/-/logout", "/-/static/app.css", "/-/static-plugins/soundbow/soundbow.css", "/:memory:", "/bell",
    "/bell/", "/bell/UPPER", "/bell/a_b", "/bell/a--b", "/bell/-a", "/bell/a-", "/bell/%61", "/bell/..%2Fx",
    "/bell/nonesuch", "/bell/x.json", "/bell/hill-church-tom%0a", "/bell/hill-church-tom%00",
    "/tower/nonesuch", "/survey/nonesuch", "/survey/nonesuch.yaml", "/survey/hill-church-2024.yml",
    "/data/nothing.xml", "/assets/nothing.css", "/assets/../routes.py", "/assets/%2e%2e/routes.py",
    "//evil.example/", "/towers//",
)  # fmt: skip


@pytest.mark.parametrize("address", EVERY_KIND)
@pytest.mark.parametrize("method", ["GET", "HEAD", "POST"])
def test_every_answer_carries_the_security_headers_once(get, address: str, method: str) -> None:
    """Pages, files, assets, redirects and refusals alike; no header is there twice."""
    answer = get(address, method)
    sent = [name for name, _ in answer.headers.raw]
    for name, value in HEADERS.items():
        assert answer.headers[name.decode()] == value.decode()
        assert sent.count(name) == 1
    policy = answer.headers["content-security-policy"]
    assert "unsafe" not in policy
    assert "default-src 'none'" in policy


@pytest.mark.parametrize("address", CLOSED)
def test_nothing_else_is_served(get, address: str) -> None:
    """Datasette's own pages, SQL, downloads, and ids of another shape all give our page for nothing here."""
    answer = get(address)
    assert answer.status_code == 404, answer.text[:200]
    assert "Nothing here" in answer.text
    assert "set-cookie" not in answer.headers


@pytest.mark.parametrize("method", ["POST", "PUT", "PATCH", "DELETE", "OPTIONS", "TRACE", "PROPFIND"])
@pytest.mark.parametrize("address", ["/", "/bells", "/small/bell", "/-/messages"])
def test_only_reading_is_allowed(get, address: str, method: str) -> None:
    """Any other method is refused before anything looks at it."""
    answer = get(address, method, content=b"sql=select+1")
    assert answer.status_code == 405
    assert answer.headers["allow"] == "GET, HEAD"


@pytest.mark.parametrize("address", ["/", "/bells.csv", "/data/derived.csv", "/nothing"])
def test_head_is_get_without_a_body(get, address: str) -> None:
    """The same status and headers, and nothing after them."""
    head, whole = get(address, "HEAD"), get(address)
    assert head.status_code == whole.status_code
    assert head.content == b""
    assert head.headers["content-type"] == whole.headers["content-type"]


def test_a_slash_too_many_leads_to_the_page(get) -> None:
    """It is sent on to our address with its query, and nowhere else."""
    answer = get("/towers/?page=2")
    assert (answer.status_code, answer.headers["location"]) == (301, "/towers?page=2")


def test_assets_are_kept_for_ever_under_their_mark(get) -> None:
    """The address in a page changes with the file, so that a browser may keep it."""
    html = get("/").text
    address = html.partition('rel="stylesheet" href="')[2].partition('"')[0]
    assert "immutable" in get(address).headers["cache-control"]
    assert "immutable" not in get("/assets/soundbow.css?v=other").headers["cache-control"]
    assert get("/favicon.ico").headers["content-type"] == "image/svg+xml"


def test_pages_hold_nothing_the_policy_forbids(get) -> None:
    """No inline script, style or handler, and no address elsewhere; a citation spells the site's own out."""
    for address in ("/", "/bell/hill-church-tom", "/map", "/bells", "/survey/hill-church-2024", "/about"):
        html = get(address).text.replace(">http://127.0.0.1/", ">/")
        assert "<script" not in html
        assert "<style" not in html
        assert ' style="' not in html
        assert "http:" not in html
        assert "https:" not in html


def test_an_address_of_many_arguments_is_refused(get) -> None:
    """A thousand arguments are no question."""
    assert get("/bells?" + "&".join(f"note=C{n}" for n in range(1000))).status_code == 404


@pytest.mark.parametrize("content", [None, b"", b"no database", b"SQLite format 3\0" + bytes(100)])
def test_what_is_no_registry_is_refused_in_words(tmp_path: Path, content: bytes | None) -> None:
    """A missing file, an empty one, text, and a database of something else are named for what they are."""
    path = tmp_path / "other.db"
    if content is not None:
        path.write_bytes(content)
    with pytest.raises(InputError) as refused:
        make_app(path)
    (problem,) = refused.value.problems
    assert problem.code == ("file-missing" if content is None else "not-a-registry")
    assert problem.remedy


def test_a_registry_of_another_version_is_refused_in_words(tmp_path: Path) -> None:
    """Its tables may differ, so no page is tried; the remedy is to load again."""
    path = tmp_path / "old.db"
    conn = sqlite3.connect(path)
    create_schema(conn)
    conn.execute("UPDATE registry_meta SET value = 'other' WHERE key = 'schema_fingerprint'")
    conn.commit()
    conn.close()
    with pytest.raises(InputError) as refused:
        make_app(path)
    assert "load" in refused.value.problems[0].remedy


@pytest.fixture
def plugin() -> None:
    """Make sure that Datasette knows us, as it does where the package is installed."""
    if not pm.is_registered(registry.web):
        pm.register(registry.web, name="soundbow")


@pytest.mark.usefixtures("plugin")
def test_plain_datasette_shows_the_same_pages(small_registry: Path, get, asking) -> None:
    """Opened by Datasette itself, mutable or not, the site is the same to the byte."""
    for files in ({"files": [str(small_registry)]}, {"immutables": [str(small_registry)]}):
        with asking(Datasette(**files)) as plain:
            for address in EVERY_KIND:
                assert plain(address).content == get(address).content, address
            assert plain("/small/bell.json").status_code == 404


@pytest.fixture
def other_database(tmp_path: Path) -> Path:
    """Make a database that is no registry."""
    path = tmp_path / "other.db"
    conn = sqlite3.connect(path)
    conn.execute("CREATE TABLE song (id INTEGER PRIMARY KEY, title TEXT)")
    conn.execute("INSERT INTO song VALUES (1, 'Lied')")
    conn.commit()
    conn.close()
    return path


@pytest.mark.usefixtures("plugin")
def test_without_a_registry_the_plugin_is_silent(other_database: Path, asking) -> None:
    """A Datasette of other databases is as if the package were not installed."""
    with asking(Datasette([str(other_database)])) as get:
        assert "Lied" in get("/other/song").text
        assert get("/other.json?sql=select+42+as+n&_shape=array").json() == [{"n": 42}]
        assert get("/-/versions.json").status_code == 200
        assert get("/towers").status_code == 404
        assert "content-security-policy" not in get("/").headers


@pytest.mark.usefixtures("plugin")
def test_a_database_beside_the_registry_is_neither_changed_nor_a_way_in(
    other_database: Path, small_registry: Path, asking
) -> None:
    """It is served as ever, the registry is closed to it, and both sets of pages stand side by side."""
    opened = Datasette([str(other_database), str(small_registry)], crossdb=True)
    with asking(opened) as get:
        assert "Lied" in get("/other/song").text
        assert get("/other.json?sql=select+title+from+song&_shape=array").json() == [{"title": "Lied"}]
        assert get("/-/static/app.css").status_code == 200
        assert "content-security-policy" not in get("/other").headers
        assert "hill-church" in get("/").text
        assert "hill-church" not in get("/other").text
        assert "Lied" not in get("/data").text
        for address in (
            "/small",
            "/small/bell",
            "/small?sql=select+1",
            "/_memory?sql=select+*+from+small.bell",
        ):
            assert get(address).status_code == 404
        assert get("/-/databases.json").status_code == 404
        assert get("/other.json?sql=attach+'small.db'+as+x").status_code == 400


@pytest.mark.usefixtures("plugin")
def test_the_registry_is_closed_to_permissions_as_well(small_registry: Path, other_database: Path) -> None:
    """Should a path slip by the guard, Datasette's own permission checks deny it."""

    async def allowed(datasette: Datasette, action: str, resource: object) -> bool:
        await datasette.invoke_startup()
        return bool(await datasette.permission_allowed(None, action, resource, default=True))

    both = Datasette([str(small_registry), str(other_database)])
    for action, resource in (
        ("view-database", "small"), ("view-table", ("small", "bell")), ("execute-sql", "small"),
        ("view-database-download", "small"), ("execute-sql", "_memory"), ("view-database", "_internal"),
    ):  # fmt: skip
        assert not asyncio.run(allowed(both, action, resource)), action
    assert asyncio.run(allowed(both, "view-database", "other"))
    alone = make_datasette(small_registry)
    assert not asyncio.run(allowed(alone, "view-instance", None))
    for datasette in (both, alone):
        datasette.executor.shutdown()


@pytest.mark.usefixtures("plugin")
def test_whoever_runs_datasette_can_close_the_site(small_registry: Path, asking) -> None:
    """An allow block in Datasette's metadata holds for our pages too."""
    for metadata in ({"allow": {"id": "root"}}, {"databases": {"small": {"allow": False}}}):
        with asking(Datasette([str(small_registry)], metadata=metadata)) as get:
            for address in ("/", "/bells.json", "/data/bell.csv", "/survey/hill-church-2024.yaml"):
                assert get(address).status_code == 403


@pytest.mark.parametrize("base_url", ["/bells/", "/a/b/"])
def test_a_site_below_a_path_keeps_its_links_below_it(small_registry: Path, asking, base_url: str) -> None:
    """Behind a proxy every link, asset and redirect starts with the path of the site."""
    with asking(make_datasette(small_registry, base_url=base_url)) as get:
        for address in (
            "",
            "towers",
            "bell/hill-church-tom",
            "map",
            "bells?material=bronze",
            "nothing",
            "data",
        ):
            html = get(base_url + address).text
            links = re.findall(r'(?:href|src|action)="([^"#][^"]*)"', html)
            assert links
            assert [link for link in links if not link.startswith(base_url)] == []
        assert get(f"{base_url}towers").status_code == 200
        assert get(f"{base_url}small").status_code == 404
        assert get(f"{base_url}towers/").headers["location"] == f"{base_url}towers"
        assert 'aria-current="page"' in get(f"{base_url}towers").text
