"""The condition on the pages: computed beside the surveyor's word, never good where nobody looked."""

import re
from datetime import date
from html.parser import HTMLParser

import pytest

from registry.web.app import make_datasette
from registry.web.condition_shown import grades_in_short


class Text(HTMLParser):
    """Collect the text of a page."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.text = ""
        self.feed(html)

    def handle_data(self, data: str) -> None:
        """Collect text."""
        self.text += f" {data}"


def plain(html: str) -> str:
    """Give the words of a page with single spaces."""
    return " ".join(Text(html).text.split())


def section(html: str, name: str) -> str:
    """Give one section of a page."""
    found = re.search(rf'<section class="part" aria-labelledby="{name}">.*?</section>', html, re.DOTALL)
    assert found, name
    return found[0]


def test_a_cracked_bell_is_stopped_and_says_why(get) -> None:
    """A bell with a confirmed crack is grave, is not to be rung, and names the crack as the reason."""
    text = plain(section(get("/bell/hill-church-tom").text, "condition"))
    assert "3 – grave symptoms" in text
    assert "Do not ring" in text
    assert "Because: Crack 1" in text
    assert "Ringing as usual" not in text


def test_what_was_not_inspected_is_not_known(get) -> None:
    """A bell that nobody looked over has no grade, gets no leave to ring, and names what is missing."""
    text = plain(section(get("/bell/hill-church-treble").text, "condition"))
    assert "not known" in text
    assert "Inspect first" in text
    assert "That is no leave to ring" in text
    assert "not called good" in text


def test_the_surveyor_stands_beside_the_rules(get) -> None:
    """The surveyor's own steps and reasons stand in the row of their component, as the text they are."""
    html = section(get("/bell/hill-church-tom").text, "condition")
    (row,) = re.findall(r'<tr><th scope="row">Bell</th>.*?</tr>', html, re.DOTALL)
    assert "3 · 3 · 3" in plain(row)
    assert "&lt;b&gt;cracked&lt;/b&gt;" in row
    assert "/survey/hill-church-2024" in row


def test_a_disagreement_is_shown(get, form_texts, tmp_path, loading, asking) -> None:
    """A surveyor who judges milder than what was found is told so, with both numbers."""
    milder = form_texts["hill-2024.yaml"].replace("condition: 3, urgency: 3", "condition: 1, urgency: 1")
    assert milder != form_texts["hill-2024.yaml"]
    registry = loading({**form_texts, "hill-2024.yaml": milder}, tmp_path / "milder.db")
    with asking(make_datasette(registry)) as ask:
        text = plain(section(ask("/bell/hill-church-tom").text, "condition"))
    assert "disagrees: condition 1 by the surveyor, at least 3 by the rules" in text


def test_options_go_from_the_least_and_never_to_recasting_here(get) -> None:
    """Watching comes first; recasting a bell whose protection is not known is refused with the reason."""
    html = section(get("/bell/hill-church-tom").text, "ahead")
    text = plain(html)
    assert text.index("Leave the bell as it is") < text.index("Not proposed")
    assert "Recast: " in text.partition("Not proposed")[2]
    assert "Refer to the heritage authority" in text
    assert "When to look again" in text


def test_a_bell_that_is_gone_is_not_judged(get) -> None:
    """Nobody can look at a bell that was recast: nothing is computed of its condition."""
    html = get("/bell/hill-church-elder").text
    assert 'aria-labelledby="condition"' not in html
    assert 'aria-labelledby="ahead"' not in html


def test_change_is_told_survey_by_survey(get) -> None:
    """What two visits tell differently stands side by side, the older first."""
    text = plain(section(get("/bell/hill-church-tom").text, "change"))
    assert "1 150 mm" in text
    assert text.index("1 150 mm") < text.index("1 181.1 mm")


def test_tower_tells_its_worst_bell_and_the_next_inspection(get) -> None:
    """The page of a tower says how bad it is, which bells are silent, and when somebody must look."""
    html = section(get("/tower/hill-church").text, "condition")
    text = plain(html)
    assert "3 – grave symptoms" in text
    assert "next inspection" in text
    assert "Not to be rung until a bell expert has examined it" in text
    assert "/work?tower=hill-church" in html


def test_work_list_names_what_where_and_why(get) -> None:
    """The work list leads from each thing to do to its bell, tower and survey."""
    html = section(get("/work").text, "to-do")
    assert "/bell/hill-church-tom" in html
    assert "/tower/hill-church" in html
    assert "/survey/hill-church-2024" in html
    assert "Call a bell expert" in plain(html)


def test_work_list_is_narrowed_by_its_address(get) -> None:
    """Tower, component, urgency and day leave what they ask for; files follow the same address."""
    whole = get("/work.csv").text.splitlines()
    urgent = get("/work.csv?urgency=3").text.splitlines()
    assert 1 < len(urgent) < len(whole)
    assert set(urgent) < set(whole)
    assert len(get("/work.csv?tower=field-chapel&component=frame&urgency=3").text.splitlines()) == 1
    assert "No inspection is due by then" in get("/work?until=1900-01-01").text
    assert "selected>at once" in get("/work?urgency=3").text


@pytest.mark.parametrize("query", ["urgency=9", "component=roof", "until=soon"])
def test_nonsense_is_left_out_in_the_open(get, query: str) -> None:
    """An argument that means nothing is named as left out, and everything is listed."""
    answer = get(f"/work?{query}")
    assert answer.status_code == 200
    assert f"Left out, for nothing can be asked for it: {query.partition('=')[0]}" in answer.text


@pytest.mark.parametrize("path", ["/work", "/work.csv", "/inspections.csv", "/inspections.ics"])
@pytest.mark.parametrize(
    "word", ["'", '"><script>alert(1)</script>', "'; DROP TABLE to_do; --", "\0", "😀" * 99]
)
def test_no_argument_becomes_markup_or_sql(get, path: str, word: str) -> None:
    """Whatever stands in the address, the answer is there, and no page holds an element of it."""
    for name in ("tower", "region", "component", "urgency", "until", "page"):
        answer = get(path, params={name: word})
        assert answer.status_code == 200
        assert path != "/work" or "<script>" not in answer.text


def test_calendar_has_an_entry_for_each_inspection(get) -> None:
    """The calendar is served as one, every line ended as the standard asks, an entry for each row."""
    answer = get("/inspections.ics")
    assert answer.headers["content-type"] == "text/calendar; charset=utf-8"
    assert answer.text.startswith("BEGIN:VCALENDAR\r\n")
    rows = get("/inspections.csv").text.splitlines()[1:]
    assert answer.text.count("BEGIN:VEVENT\r\n") == len(rows) > 0
    assert all(date.fromisoformat(row.split(",")[0]) for row in rows)


def bell(grade: int | None, at_least: int | None) -> dict[str, int | None]:
    """Give what a row says of the computed grade."""
    return {"grade": grade, "grade_at_least": at_least}


def test_a_tower_is_never_better_than_what_is_not_known() -> None:
    """Known and unknown together are unknown, with what is at least the case; the gravest needs no more."""
    mixed = grades_in_short([bell(0, 0), bell(None, 1), bell(None, None)])
    assert mixed is not None
    assert mixed.words == "not known; at least 1 – slight symptoms"
    grave = grades_in_short([bell(None, 0), bell(3, 3)])
    assert grave is not None
    assert grave.words == "3 – grave symptoms"
    sound = grades_in_short([bell(0, 0), bell(1, 1)])
    assert sound is not None
    assert sound.words == "1 – slight symptoms"
    assert grades_in_short([bell(None, None)]) is None


def test_nothing_found_is_never_called_good(get) -> None:
    """The lowest computed step is worded as nothing found, and who cannot be judged is counted."""
    assert "0 – nothing found, or not inspected" in get("/bells").text
    text = plain(get("/bells?grade=3").text)
    assert "By the rules, at least: 3 – grave".lower() in text.lower()
    assert "may be graver: not all was inspected" in text
