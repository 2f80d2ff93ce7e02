"""Values that are markup, script or SQL are shown as the text they are."""

from html.parser import HTMLParser

import pytest

PAGES = (
    "/", "/towers", "/work", "/tower/hill-church", "/bell/hill-church-tom", "/bell/hill-church-treble",
    "/bells",
    "/map", "/about", "/survey/hill-church-2024", "/data/bell_current", "/data/bell_seen",
    "/data/tower_current", "/data/crack", "/data/survey", "/data/region", "/data/attention",
    "/bells?text=%22%3E%3Cscript%3Ealert(1)%3C/script%3E", "/bells?founder=%3Cb%3E&note=%22onclick%3D%22x",
    "/identify", "/twins", "/identify?mouth_diameter_mm=900&inscription=%3Cscript%3Ealert(1)%3C/script%3E",
    "/identify?founder=%22%3E%3Cimg%20src=x%20onerror=alert(1)%3E&mass_kg=400",
    "/data/bell_seen?name=%3Cscript%3E", "/map?text=%3C/title%3E%3Cscript%3E&bbox=%22%3E",
)  # fmt: skip

TAGS = {
    "html", "head", "meta", "title", "link", "body", "a", "header", "aside", "div", "img", "strong", "span",
    "nav", "ul", "ol", "li", "form", "label", "input", "button", "main", "h1", "h2", "h3", "p", "b", "small",
    "section", "svg", "g", "path", "circle", "rect", "text", "polyline", "desc", "defs", "pattern", "table",
    "caption", "thead", "tbody", "tr", "th", "td", "details", "summary", "figure", "figcaption", "dl", "dt",
    "dd", "code", "blockquote", "br", "time", "footer", "i", "fieldset", "legend", "select", "option",
    "ellipse", "textarea",
}  # fmt: skip
"""Every element our templates use; anything else came out of a value."""


class Elements(HTMLParser):
    """Collect elements and attributes of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.handlers: list[str] = []
        self.addresses: list[str] = []
        self.images: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note the element."""
        self.tags.add(tag)
        self.handlers += [name for name, _ in attrs if name.startswith("on") or name in ("style", "srcdoc")]
        self.addresses += [str(value) for name, value in attrs if name in ("href", "src", "action")]
        self.images += [str(value) for name, value in attrs if tag == "img" and name == "src"]


@pytest.mark.parametrize("address", PAGES)
def test_no_value_becomes_markup(get, address: str) -> None:
    """A page has only our elements, no handler, no address of another scheme, and only our picture."""
    answer = get(address)
    assert answer.status_code == 200
    found = Elements()
    found.feed(answer.text)
    assert found.tags <= TAGS
    assert found.handlers == []
    assert all(target.startswith(("/", "#")) for target in found.addresses)
    assert all(target.startswith("/assets/bell.svg") for target in found.images)


def test_the_values_are_there_as_text(get) -> None:
    """Nothing is cut out or altered: the reader sees what the surveyor wrote."""
    html = get("/bell/hill-church-tom").text
    assert "Tom &lt;script&gt;alert(&#39;name&#39;)&lt;/script&gt;" in html
    tower = get("/tower/hill-church").text
    assert "{{ 7 * 7 }} ${7*7} &lt;img src=x onerror=alert(&#39;access&#39;)&gt;" in tower
    assert "&#39;; DROP TABLE bell; --" in tower
    assert "javascript:alert(&#39;owner&#39;)" in tower


def test_json_and_csv_hold_the_values_unchanged(get) -> None:
    """Files are for machines: text is neither escaped nor cleaned."""
    (row,) = get("/data/bell_seen.json?bell_id=hill-church-tom&survey_id=hill-church-2024").json()
    assert row["name"] == "Tom <script>alert('name')</script>"
    assert "Tom <script>alert('name')</script>" in get("/data/bell_seen.csv").text


@pytest.mark.parametrize(
    "word", ["'", '"', "' OR '1'='1", "1; DROP TABLE bell", "\\", "%", "_", "\u202e", "😀" * 200]
)
def test_no_argument_reaches_sql_as_sql(get, word: str) -> None:
    """Whatever stands in an argument, the page is there and the registry whole."""
    for address in ("/bells", "/data/bell_seen", "/data/attention", "/map"):
        for name in (
            "text",
            "founder",
            "note",
            "region",
            "country",
            "bell_id",
            "kind",
            "page",
            "bbox",
            "sort",
        ):
            assert get(address, params={name: word}).status_code == 200
    assert len(get("/data/bell.json").json()) == 4
