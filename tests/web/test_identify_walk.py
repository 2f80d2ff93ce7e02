"""The answer about a bell without papers in a browser: on a telephone, in the dark, by keyboard."""

from typing import Any

import pytest

pytestmark = pytest.mark.browser

ANSWER = "/identify?mouth_diameter_mm=860&cast=17XX&material=bronze&founder=Zvonlik"
PAGES = (
    ANSWER,
    "/identify?mouth_diameter_mm=large&loops=6",
    "/identify?hum_hz=300&nominal_hz=1100",
    "/twins",
)


@pytest.mark.parametrize(("address", "scheme"), [*((page, "light") for page in PAGES), (ANSWER, "dark")])
def test_on_a_phone(browser: Any, site: str, axe_source: str, address: str, scheme: str) -> None:
    """At 360 px nothing scrolls sideways, and no accessibility rule is gravely broken, in either scheme."""
    context = browser.new_context(viewport={"width": 360, "height": 740}, color_scheme=scheme)
    tab = context.new_page()
    tab.goto(site + address)
    assert tab.evaluate("document.documentElement.scrollWidth - document.documentElement.clientWidth") <= 0
    tab.evaluate(axe_source)
    found = tab.evaluate(
        "async () => (await axe.run(document, {resultTypes: ['violations']})).violations"
        ".filter(rule => ['serious', 'critical'].includes(rule.impact))"
        ".map(rule => rule.id + ': ' + rule.nodes[0].html)"
    )
    context.close()
    assert found == []


def test_by_keyboard_and_without_scripts(browser: Any, site: str) -> None:
    """A finder types a diameter and presses enter: the answer comes, and its address holds the question."""
    context = browser.new_context(java_script_enabled=False)
    tab = context.new_page()
    tab.goto(f"{site}/identify")
    tab.get_by_label("Mouth diameter, mm", exact=True).fill("21 1/2 in")
    tab.keyboard.press("Enter")
    tab.wait_for_url("**/identify?*")
    assert "mouth_diameter_mm=21" in tab.url
    assert tab.get_by_role("heading", name="Answer").is_visible()
    assert tab.get_by_role("link", name="Klepklok").is_visible()
    context.close()
