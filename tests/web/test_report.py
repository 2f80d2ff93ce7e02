"""The report as a page: it says what the paper says, and its pictures come from beside the forms."""

import re
from collections import Counter
from collections.abc import Iterator
from contextlib import closing
from datetime import date
from html.parser import HTMLParser
from pathlib import Path
from typing import Any, get_args

import pytest

from registry.judging import Settings
from registry.report.blocks import Block, Boxes, FillIn, as_data
from registry.report.document import report_document
from registry.report.photos import Photos
from registry.report.reading import subject_of
from registry.store.database import open_registry
from registry.web.app import make_datasette
from registry.web.rendering import environment

PNG = b"\x89PNG\r\n\x1a\n" + bytes(20)
NOT_READ = ("is", "svg", "style", "where", "file", "lang", "alt")
ON_PAPER_ALONE = {Boxes, FillIn}
"""Blocks of forms to fill in by hand."""


class Page(HTMLParser):
    """The words of a page, and the names of its parts."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.text = ""
        self.names: Counter[str] = Counter()
        self.feed(html)

    def handle_starttag(self, _tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note the name of a part."""
        self.names.update(str(value) for name, value in attrs if name == "id")

    def handle_data(self, data: str) -> None:
        """Collect text."""
        self.text += data


def words_of(value: Any) -> Iterator[str]:
    """Give every text that a block says to a reader."""
    if isinstance(value, str):
        if not value.startswith("<svg"):
            yield value
    elif isinstance(value, dict):
        for name, each in value.items():
            if name not in NOT_READ:
                yield from words_of(each)
    elif isinstance(value, list):
        for each in value:
            yield from words_of(each)


@pytest.mark.parametrize(
    ("kind", "known_id"),
    [("tower", "hill-church"), ("bell", "hill-church-tom"), ("survey", "hill-church-2024")],
)
def test_the_page_says_what_the_paper_says(get, small_registry: Path, kind: str, known_id: str) -> None:
    """No word of any block is missing, and no two parts of the page have the same name."""
    answer = get(f"/report/{kind}/{known_id}")
    assert answer.status_code == 200
    page = Page(answer.text)
    with closing(open_registry(small_registry)) as conn:
        subject = subject_of(conn, kind, known_id)  # type: ignore[arg-type]
        document = report_document(conn, subject, Photos({}, {}, {}), Settings(date.today()))
    said = " ".join(page.text.split())
    for words in words_of(as_data(document.blocks)):
        assert " ".join(words.split()) in said
    assert [name for name, times in page.names.items() if times > 1] == []
    assert document.foot in said


def test_every_kind_of_block_has_its_look() -> None:
    """A new kind of block is not left out of the pages in silence."""
    file = environment().get_template("soundbow/blocks.html").filename
    source = Path(str(file)).read_text(encoding="utf-8")
    shown = set(re.findall(r'it\.is == "([a-z]+)"', source))
    assert shown == {kind.__name__.lower() for kind in set(get_args(Block)) - ON_PAPER_ALONE}


@pytest.mark.parametrize("kind", ["tower", "bell", "survey"])
def test_there_is_no_report_on_what_is_not_there(get, kind: str) -> None:
    """An id that nothing has gets the page that says so."""
    assert get(f"/report/{kind}/nowhere").status_code == 404


@pytest.fixture
def with_photos(form_texts: dict[str, str], tmp_path: Path, loading, asking) -> Iterator[Any]:
    """Serve a registry whose newest form names a picture, a text that is none, and a lost picture."""
    texts = dict(form_texts)
    texts["hill-2024.yaml"] = (
        texts["hill-2024.yaml"].rstrip("\n")
        + "\nattachments:\n"
        + "  - {file: photos/tom.png, kind: photo, shows: Tom from the north, bell: hill-church-tom}\n"
        + "  - {file: hill-2024.yaml, kind: scan, shows: No picture at all, bell: hill-church-tom}\n"
        + "  - {file: photos/lost.jpg, kind: photo, shows: A lost view, bell: hill-church-tom}\n"
    )
    path = tmp_path / "photos.db"
    photos = path.with_suffix(".forms") / "photos"
    loading(texts, path)
    photos.mkdir()
    photos.joinpath("tom.png").write_bytes(PNG)
    with asking(make_datasette(path)) as get:
        yield get


def test_pictures_come_from_beside_the_forms(with_photos) -> None:
    """A picture at hand is shown with its words; what is lost or none is named with the reason."""
    html = with_photos("/report/bell/hill-church-tom").text
    (address,) = re.findall(r'<img src="(/photo/[^"]+)" alt="Tom from the north"', html)
    answer = with_photos(address)
    assert answer.status_code == 200
    assert answer.content == PNG
    assert answer.headers["content-type"] == "image/png"
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert "No picture at all (hill-2024.yaml): no JPEG, PNG, GIF or WebP picture" in html
    assert "A lost view (photos/lost.jpg): not at hand" in html


@pytest.mark.parametrize("what", ["1.jpg", "2.yaml", "2.png", "3.jpg", "4.png", "0.png"])
def test_no_other_file_is_given_out(with_photos, what: str) -> None:
    """A form, a lost picture, a number that is not there and a wrong ending give nothing."""
    survey_id = "hill-church-2024"
    assert with_photos(f"/photo/{survey_id}.1.png").status_code == 200
    assert with_photos(f"/photo/{survey_id}.{what}").status_code == 404
    assert with_photos("/photo/nowhere.1.png").status_code == 404
