"""Serve a registry as a user does, and find every page by following the links."""

import re
import subprocess
import urllib.request
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from html.parser import HTMLParser
from pathlib import Path
from typing import NamedTuple
from urllib.error import HTTPError
from urllib.parse import urldefrag, urljoin, urlsplit

CHECKOUT = Path(__file__).resolve().parent.parent
"""The folder of the project."""

NEVER_BY_PROXY = urllib.request.build_opener(urllib.request.ProxyHandler({}))
"""A server on this machine is asked directly, whatever the environment says."""


QUERIES = 6
"""Questions followed of one address: the choices of a search, the tables of one bell."""


@contextmanager
def served(command: Sequence[str], **popen: object) -> Iterator[str]:
    """Run a command that serves pages, and give its address until the block ends."""
    server = subprocess.Popen(
        command,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        **popen,  # type: ignore[call-overload]
    )
    try:
        yield _printed_address(server)
    finally:
        server.terminate()
        server.communicate(timeout=30)


def _printed_address(server: "subprocess.Popen[str]") -> str:
    said = []
    for line in server.stdout or ():
        said.append(line)
        if found := re.search(r"http://127\.0\.0\.1:\d+", line):
            return found[0]
    raise AssertionError("the server printed no address:\n" + "".join(said))


class Answer(NamedTuple):
    """What the server said to one request."""

    status: int
    headers: Mapping[str, str]
    body: bytes

    @property
    def is_page(self) -> bool:
        """Whether it is HTML."""
        return self.headers.get("content-type", "").startswith("text/html")


def fetched(url: str) -> Answer:
    """Ask for one address."""
    try:
        with NEVER_BY_PROXY.open(url, timeout=30) as reply:
            return Answer(reply.status, {k.lower(): v for k, v in reply.headers.items()}, reply.read())
    except HTTPError as error:
        with error:
            return Answer(error.code, {k.lower(): v for k, v in error.headers.items()}, error.read())


LEADING = re.compile(r"<[a-zA-Z][^<>]*\b(?:href|src)=[^<>]*>")
"""Tags that lead anywhere. The pages escape < and > in attributes, and the others need no reading."""


class _Links(HTMLParser):
    """Collect what a page links to (``a``) and what it needs to be seen (styles, scripts, pictures)."""

    def __init__(self) -> None:
        super().__init__()
        self.to: list[str] = []
        self.needs: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note the addresses of one tag."""
        values = dict(attrs)
        if tag in ("a", "area") and values.get("href"):
            self.to.append(str(values["href"]))
        elif tag == "link" and values.get("rel") in ("stylesheet", "icon", "manifest", "preload"):
            self.needs.append(str(values.get("href")))
        elif values.get("src"):
            self.needs.append(str(values["src"]))


class Crawl(NamedTuple):
    """What following the links of a site found."""

    pages: dict[str, Answer]
    """Every page by its address without the host."""
    assets: dict[str, Answer]
    """What the pages need to be seen."""
    files: dict[str, Answer]
    """What the pages offer for download: tables as CSV and JSON, forms as written."""
    elsewhere: set[str]
    """Addresses outside the site."""


def crawled(site: str) -> Crawl:
    """Follow every link from the first page; of links that differ in their query only, the first few."""
    found = Crawl({}, {}, {}, set())
    asked: Counter[str] = Counter()
    waiting = ["/"]
    seen = {"/"}

    def local(address: str, page: str) -> str | None:
        full = urldefrag(urljoin(site + page, address)).url
        if not full.startswith(f"{site}/"):
            if urlsplit(full).scheme in ("http", "https"):
                found.elsewhere.add(full)
            return None
        return full.removeprefix(site)

    while waiting:
        page = waiting.pop()
        answer = fetched(site + page)
        if not answer.is_page:
            found.files[page] = answer
            continue
        found.pages[page] = answer
        links = _Links()
        links.feed("".join(LEADING.findall(answer.body.decode())))
        for address in dict.fromkeys(links.needs):
            asset = local(address, page)
            if asset and asset not in found.assets:
                found.assets[asset] = fetched(site + asset)
        for address in dict.fromkeys(links.to):
            target = local(address, page)
            if target and target not in seen:
                seen.add(target)
                path, _, query = target.partition("?")
                asked[path] += bool(query)
                if not query or asked[path] <= QUERIES:
                    waiting.append(target)
    return found
