"""Every page of the sample district in a browser: on a telephone, by keyboard, without scripts."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from serving import crawled, fetched

pytestmark = pytest.mark.browser

SHARES = 9
"""The pages are dealt out to so many tests, which can run side by side."""

PHONE = {"width": 360, "height": 740}
DESK = {"width": 1280, "height": 900}


@pytest.fixture(scope="module")
def answers(site: str, once) -> dict[str, dict[str, int]]:
    """Follow every link once, and give the answers by address, of pages, their assets and files."""

    def make(folder: Path) -> None:
        found = crawled(site)
        told = {
            name: {address: answer.status for address, answer in sorted(getattr(found, name).items())}
            for name in ("pages", "assets", "files")
        }
        told["elsewhere"] = dict.fromkeys(sorted(found.elsewhere), 0)
        (folder / "answers.json").write_text(json.dumps(told), encoding="utf-8")

    return json.loads((once("answers", make) / "answers.json").read_text(encoding="utf-8"))


REPORTS_LOOKED_AT = 12
"""Reports are made of the same few blocks: of so many the look is tried, of all whether they are there."""


@pytest.fixture(scope="module")
def pages(answers: dict[str, dict[str, int]]) -> list[str]:
    """Give the address of every page."""
    return list(answers["pages"])


def test_every_link_leads_somewhere(answers: dict[str, dict[str, int]]) -> None:
    """Every page, asset and file that is linked is there, and none lies outside the site."""
    assert not answers["elsewhere"]
    for name in ("pages", "assets", "files"):
        assert answers[name]
        assert {address for address, status in answers[name].items() if status != 200} == set()


@pytest.fixture
def page(browser: Any, site: str) -> Iterator[Any]:
    """Open an empty page that notes what goes wrong; the test fails at its end if anything did."""
    context = browser.new_context(viewport=DESK)
    tab = context.new_page()
    faults: list[str] = []
    tab.on("console", lambda message: message.type in ("error", "warning") and faults.append(message.text))
    tab.on("pageerror", lambda error: faults.append(str(error)))
    tab.on("requestfailed", lambda request: faults.append(f"{request.url}: {request.failure}"))
    tab.on(
        "request", lambda request: request.url.startswith(f"{site}/") or faults.append(f"asks {request.url}")
    )
    yield tab
    context.close()
    # A request that is cut short because the test goes on to the next page is no fault.
    assert [fault for fault in faults if "net::ERR_ABORTED" not in fault] == []


def violations(tab: Any, axe_source: str, *, contrast: bool = True) -> list[str]:
    """Run the accessibility rules over a page and give the grave ones that it breaks."""
    tab.evaluate(axe_source)
    found = tab.evaluate(
        "async contrast => (await axe.run(document, {resultTypes: ['violations'],"
        " preload: false, rules: {'color-contrast': {enabled: contrast}}})).violations"
        ".filter(rule => ['serious', 'critical'].includes(rule.impact))"
        ".map(rule => rule.id + ': ' + rule.nodes[0].html + ' ' + rule.nodes[0].failureSummary)",
        contrast,
    )
    return list(found)


def styled_places(tab: Any) -> set[str]:
    """Give every place of a page that style sheets can tell apart: its tag and classes, those around it."""
    return set(
        tab.evaluate(
            "() => { const named = new Map(), name = at => { if (!at) return '';"
            " if (!named.has(at)) named.set(at, name(at.parentElement) + ' ' + at.tagName"
            " + [...at.classList].sort().map(word => '.' + word).join('') + (at.style.cssText || ''));"
            " return named.get(at); };"
            " return [...new Set([...document.body.querySelectorAll('*')].map(name))]; }"
        )
    )


def overflow_px(tab: Any) -> int:
    """Measure how far the page can be scrolled sideways."""
    return int(tab.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth"))


@pytest.fixture(scope="module")
def measured() -> set[str]:
    """Give the styled places whose contrast was measured, as far as this process has come."""
    return set()


@pytest.mark.parametrize("share", range(SHARES))
def test_every_page_on_a_phone(
    share: int, pages: list[str], site: str, page: Any, *, axe_source: str, measured: set[str]
) -> None:
    """At 360 px no page scrolls sideways, logs an error, asks another host, or fails axe gravely.

    Contrast takes half of the time and hangs on the style alone: it is measured on every page that has a
    place which no page before it had.
    """
    page.set_viewport_size(PHONE)
    wrong = []
    reports = [address for address in pages if address.startswith("/report/")]
    left_out = set(reports) - set(reports[:: len(reports) // REPORTS_LOOKED_AT])
    for address in [address for address in pages if address not in left_out][share::SHARES]:
        page.goto(site + address)
        if (too_wide := overflow_px(page)) > 0:
            wrong.append(f"{address} is {too_wide} px too wide")
        if not re.match(r"/data/.*\?", address):  # the same table without a question has been looked at
            places = styled_places(page)
            found = violations(page, axe_source, contrast=not places <= measured)
            measured.update(places)
            wrong += [f"{address} breaks {violation}" for violation in found]
    assert wrong == []


KINDS = (
    "/", "/towers", "/tower/", "/bells", "/bell/", "/survey/", "/report/tower/", "/report/bell/",
    "/work", "/map", "/about", "/data", "/data/",
)  # fmt: skip


def one_of(pages: list[str], kind: str) -> str:
    """Give the first page of a kind."""
    return next(page for page in pages if page == kind or (kind != "/" and re.match(rf"{kind}[a-z]", page)))


@pytest.mark.parametrize("kind", KINDS)
def test_each_kind_of_page_on_a_desk(
    kind: str, pages: list[str], site: str, page: Any, axe_source: str
) -> None:
    """On a wide screen, light or dark, each kind of page is as sound as on a phone, with one heading."""
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)
        page.goto(site + one_of(pages, kind))
        assert overflow_px(page) <= 0
        assert violations(page, axe_source) == []
        assert page.locator("h1").count() == 1
        assert page.title()


@pytest.mark.parametrize("kind", KINDS)
def test_pages_speak_without_scripts(kind: str, pages: list[str], site: str, browser: Any) -> None:
    """Without scripts each kind of page still shows its heading and its content."""
    context = browser.new_context(java_script_enabled=False, viewport=PHONE)
    tab = context.new_page()
    tab.goto(site + one_of(pages, kind))
    assert tab.locator("h1").inner_text().strip()
    assert len(tab.locator("main").inner_text().split()) > 20
    context.close()


def test_search_works_without_scripts(site: str, browser: Any) -> None:
    """Without scripts the search form finds bells and its choices narrow the result."""
    context = browser.new_context(java_script_enabled=False)
    tab = context.new_page()
    tab.goto(f"{site}/bells")
    everything = tab.locator("main a[href*='/bell/']").count()
    tab.locator("main input[type=search]").first.fill("maria")
    tab.locator("main form [type=submit]").first.click()
    found = tab.locator("main a[href*='/bell/']").count()
    assert 0 < found < everything
    context.close()


@pytest.mark.parametrize("kind", KINDS)
def test_focus_is_seen(kind: str, pages: list[str], site: str, page: Any) -> None:
    """Going through a page by the Tab key, each stop is marked, and the first leads past the menu."""
    page.goto(site + one_of(pages, kind))
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.getAttribute('href')") == "#main"
    for _ in range(12):
        seen = page.evaluate(
            "() => { const at = document.activeElement, style = getComputedStyle(at);"
            " return [at.outerHTML.slice(0, 120), at === document.body"
            " || (style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2)]; }"
        )
        assert seen[1], f"no mark of focus on {seen[0]}"
        page.keyboard.press("Tab")


def test_pages_forbid_what_they_do_not_need(pages: list[str], site: str) -> None:
    """Every kind of page forbids foreign and inline code, and being framed."""
    for kind in KINDS:
        headers = fetched(site + one_of(pages, kind)).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy or "default-src 'self'" in policy
        assert "unsafe" not in policy
        assert "frame-ancestors 'none'" in policy
        assert headers["x-content-type-options"] == "nosniff"
