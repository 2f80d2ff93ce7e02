"""Each page shows what it should, and says what is not known."""

import re
from html.parser import HTMLParser

import pytest

from registry.web.page_survey import lines_of

PAGES = (
    "/", "/towers", "/work", "/tower/hill-church", "/tower/field-chapel", "/bell/hill-church-tom",
    "/bell/hill-church-treble", "/bell/field-chapel-steel", "/bell/hill-church-elder", "/bells", "/map",
    "/about", "/data", "/data/derived", "/data/attention", "/data/current_fact", "/survey/hill-church-2024",
    "/survey/hill-church-2004", "/survey/field-chapel-list",
)  # fmt: skip


BLOCKS = {"td", "th", "dt", "dd", "li", "p", "div", "h1", "h2", "h3", "caption"}


class Words(HTMLParser):
    """Collect the text of a page, and its headings, ids and links."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.text = ""
        self.ids: list[str] = []
        self.links: list[str] = []
        self.open: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note ids and links, and keep cells and blocks apart."""
        self.text += " " if tag in BLOCKS else ""
        values = dict(attrs)
        self.ids += [str(values["id"])] if values.get("id") else []
        self.links += [str(values["href"])] if values.get("href") and tag == "a" else []

    def handle_data(self, data: str) -> None:
        """Collect text."""
        self.text += data


def words_of(get, address: str) -> Words:
    """Ask for a page and read it."""
    answer = get(address)
    assert answer.status_code == 200, address
    return Words(answer.text)


def plain(text: str) -> str:
    """Make all white space one plain space."""
    return " ".join(text.split())


@pytest.mark.parametrize("address", PAGES)
def test_page_is_there_with_one_heading_and_unique_ids(get, address: str) -> None:
    """Every page has one main heading, landmarks, a language, and no id twice."""
    answer = get(address)
    assert answer.status_code == 200
    assert answer.headers["content-type"] == "text/html; charset=utf-8"
    assert answer.text.count("<h1") == 1
    assert '<html lang="en">' in answer.text
    assert all(f"<{landmark}" in answer.text for landmark in ("header", "main", "footer", "nav"))
    ids = Words(answer.text).ids
    assert sorted(ids) == sorted(set(ids))


@pytest.mark.parametrize("address", PAGES)
def test_every_link_of_a_page_leads_to_a_page(get, address: str) -> None:
    """No page links to something that is not there, nor to a line or section that the other page lacks."""
    for link in set(words_of(get, address).links):
        path, _, anchor = link.partition("#")
        answer = get(path or address)
        assert answer.status_code == 200, f"{address} links to {link}"
        if anchor and answer.headers["content-type"].startswith("text/html"):
            assert anchor in Words(answer.text).ids, f"{address} links to {link}"


def test_home_tells_counts_and_gravest_first(get) -> None:
    """The first page counts what is there and names the through crack before anything else."""
    text = plain(words_of(get, "/").text)
    assert "2 towers" in text
    assert "4 bells, 2 no longer there" in text
    assert "2 visits, 2004–2024" in text
    titles = [
        text.index(title)
        for title in ("Cracks through the wall", "Hazard: raised bell", "Parts not inspected")
    ]
    assert titles == sorted(titles)
    assert "1 undated" in text


def test_bell_sets_observed_apart_from_computed(get) -> None:
    """The weighed mass stands among the observed with its line, the estimate among the computed."""
    html = get("/bell/hill-church-tom").text
    observed = plain(Words(html.partition('class="observed"')[2].partition('class="computed"')[0]).text)
    computed = plain(Words(html.partition('class="computed"')[2].partition("</section>")[0]).text)
    assert "1 100 kg" in observed
    assert "≈" not in observed
    assert re.search(r"Mouth diameter 1 181.1 mm “46 1/2 in” 2024, line [0-9]+ ", observed)
    assert re.search(r"Mass ≈ [0-9  ]+ kg [0-9  ]+ kg to [0-9  ]+ kg \(90% interval\)", computed)
    assert "observed: 1 100 kg" in computed


def test_every_value_leads_to_its_line(get, form_texts: dict[str, str]) -> None:
    """The link of a value ends at the very line of the form that holds it."""
    html = get("/bell/hill-church-tom").text
    line = int(
        re.search(r"/survey/hill-church-2024#L([0-9]+)[^>]*>2024, line \1</a>", html.partition("46 1/2")[2])[
            1
        ]
    )
    assert "46 1/2 in" in form_texts["hill-2024.yaml"].splitlines()[line - 1]


def test_bell_shows_what_surveys_disagree_on(get) -> None:
    """A diameter that changed by more than readings allow is shown with both values."""
    assert "disagrees with 1 150 mm" in plain(words_of(get, "/bell/hill-church-tom").text)


def test_cracked_bell_prints_the_cautions(get) -> None:
    """A confirmed crack says stop, and warns before welding and recasting."""
    text = plain(words_of(get, "/bell/hill-church-tom").text)
    assert "Stop ringing this bell" in text
    assert "Before anyone thinks of welding" in text
    assert "never proposed for recasting" in text


def test_not_inspected_is_never_told_as_good(get) -> None:
    """A bell that nobody looked over for cracks or judged says so."""
    text = plain(words_of(get, "/bell/hill-church-treble").text)
    assert "Nobody has looked for cracks" in text
    assert "Not assessed is not good" in text
    assert "Inside of the bell: bell was up" in text
    listed = plain(words_of(get, "/bells").text)
    assert "not looked for" in listed
    assert "not assessed" in listed


def test_bell_without_diameter_has_no_drawing(get) -> None:
    """Nothing is drawn or computed where nothing was measured, and the page says why."""
    answer = get("/bell/field-chapel-steel")
    assert "No diameter is on record" in answer.text
    assert '<title id="profile-title"' not in answer.text
    assert "Nothing can be computed" in answer.text


def test_assumed_sizes_are_dashed_and_named(get) -> None:
    """The drawing of the bell names as assumed exactly what was not measured."""
    html = get("/bell/hill-church-tom").text
    assert "(shoulder diameter, waist thickness)" in html
    assert html.count('class="fine assumed"') == 5


def test_strike_points_and_cracks_are_drawn_or_named(get) -> None:
    """What has a bearing is on the rim, what has none is named below it; the loss is computed."""
    html = get("/bell/hill-church-tom").text
    assert "Strike point 1 at 90°" in html
    assert "Crack 1, confirmed, through the wall, at 95°" in html
    assert "Without bearing, not drawn: strike point 2" in html
    text = plain(Words(html).text)
    assert re.search(r"75 mm 85 mm 11\.[0-9]+ %", text)


def test_inscriptions_carry_language_and_direction(get) -> None:
    """Latin runs left to right, Hebrew right to left, each with its tag."""
    html = get("/bell/hill-church-tom").text
    assert 'lang="la-Latn" dir="ltr"' in html
    assert re.search(r'lang="he-Hebr" dir="rtl">קול<', html)
    assert "Hebrew, Hebrew (Hebr)" in html


def test_bells_and_towers_named_in_events_are_linked_if_known(get) -> None:
    """The bell it was recast from is a link, and that bell names this one in turn."""
    assert '<a href="/bell/hill-church-elder">hill-church-elder</a>' in get("/bell/hill-church-tom").text
    elder = words_of(get, "/bell/hill-church-elder")
    assert "/bell/hill-church-tom" in elder.links
    assert "1600 or before" in elder.text


def test_tower_without_coordinates_or_visit_says_so(get) -> None:
    """A tower from documents alone has no map, no hazards, and is not called inspected."""
    text = plain(words_of(get, "/tower/field-chapel").text)
    assert "known from documents alone" in text
    assert "That does not mean that there is none" in text
    assert "There was no visit" in text


def test_tower_prints_hazards_with_cautions(get) -> None:
    """A hazard on record stands beside the cautions for whoever goes up."""
    text = plain(words_of(get, "/tower/hill-church").text)
    assert "Raised bell: <u>frame</u>" in text
    assert "A bell left mouth upward can kill" in text


def test_survey_is_shown_as_written(get, form_texts: dict[str, str]) -> None:
    """Every line of the form stands on the page under its number, its SHA-256 beside it."""
    html = get("/survey/hill-church-2024").text
    lines = form_texts["hill-2024.yaml"].splitlines()
    shown = re.findall(r'<div class="line" id="L([0-9]+)"><a [^>]*>\1</a><span>(.*)</span></div>', html)
    assert [int(number) for number, _ in shown] == list(range(1, len(lines) + 1))
    assert [Words(text).text for _, text in shown] == lines
    assert re.search(r'class="hash">[0-9a-f]{64}<', html)


def test_form_is_given_back_byte_for_byte(get, form_texts: dict[str, str]) -> None:
    """The download is the form itself."""
    answer = get("/survey/hill-church-2024.yaml")
    assert answer.content == form_texts["hill-2024.yaml"].encode()
    assert "attachment" in answer.headers["content-disposition"]


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
def test_lines_are_counted_as_the_reader_of_forms_counts_them(end: str) -> None:
    """Whatever ends a line, its number is that of the reports; a byte order mark is no character."""
    lines = lines_of(("\ufeff" + end.join(["a: 1", "b: 2 # why", "c: <i>"]) + end).encode())
    assert [str(line) for line in lines] == ["<b>a</b>: 1", "<b>b</b>: 2<i> # why</i>", "<b>c</b>: &lt;i&gt;"]


def test_about_tells_methods_cautions_and_terms(get) -> None:
    """The page on the site names the methods with their sources, the cautions, and the registry's state."""
    text = plain(words_of(get, "/about").text)
    assert "Applied Acoustics 20" in text
    assert "Venice Charter" in text
    assert re.search(r"Schema fingerprint [0-9a-f]{64}", text)
    assert "a bell left mouth upward can kill" in text.lower()
