"""The commands ``identify`` and ``twins`` on the sample district."""

import json
from pathlib import Path

import pytest

from registry.intake import load

CHECKOUT = Path(__file__).resolve().parents[2]


@pytest.fixture(scope="module")
def registry(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Load the surveys of the sample district."""
    path = tmp_path_factory.mktemp("identify") / "bells.db"
    report = load([CHECKOUT / "sample_data" / "surveys"], path, jobs=1)
    assert not report.has_errors
    return path


class TestIdentify:
    """A bell without papers."""

    def test_a_bell_of_the_registry(self, soundbow, registry: Path) -> None:
        """Facts of the Barbora bell name her, and the sheet says why and what to mind."""
        told = ["--mouth-diameter-mm", 861, "--inscription", "decus et scut_m", "--cast", "17XX"]
        ended = soundbow("identify", "--registry", registry, *told, "--no-status")
        assert ended.code == 0
        assert "morusany-st-wenceslas-barbora" in ended.out.split("\n\n")[2]
        assert "speaks" in ended.out
        assert "no proof" in ended.out
        assert "Do not polish" in ended.out

    def test_as_data(self, soundbow, registry: Path) -> None:
        """The probabilities of the data sum to one, and factors carry their weight in bits."""
        told = ["--mouth-diameter-mm", 860, "--cast", "17XX", "--most", 2]
        ended = soundbow("identify", "--registry", registry, *told, "--format", "json")
        data = ended.data
        assert ended.code == 0
        assert len(data["candidates"]) == 2
        shares = [each["probability"] for each in data["candidates"]]
        assert sum(shares) + data["rest"] + data["none"] == pytest.approx(1.0)
        assert shares == sorted(shares, reverse=True)
        assert {each["fact"] for each in data["candidates"][0]["factors"]} == {
            "mouth_diameter_mm",
            "cast_years",
        }
        assert data["next"][0]["expected_bits"] > 0.1
        assert data["compared"] == ["mouth_diameter_mm", "cast_years"]

    def test_a_bell_of_no_record(self, soundbow, registry: Path) -> None:
        """A small steel bell with words that nobody has is most likely none of them."""
        told = ["--mouth-diameter-mm", 300, "--inscription", "quixote zeppelin", "--material", "aluminium"]
        ended = soundbow("identify", "--registry", registry, *told, "--cast", 1931)
        assert ended.code == 0
        assert ended.out.startswith("Most likely none")

    @pytest.mark.parametrize(
        ("told", "words"),
        [
            (["--bell", "x", "--mouth-diameter-mm", 860], "give the form with --form"),
            (["--form", CHECKOUT / "sample_data" / "founders.yaml"], "has no bell"),
            (["--note-cents", 5, "--cast", "17XX"], "--note-cents '5': expected note beside it"),
            (["--hum-hz", 200], "Partials need a nominal or a strike note"),
        ],
        ids=["bell", "founders", "cents", "partial"],
    )
    def test_nothing_told_is_passed_over(self, soundbow, registry: Path, told: list, words: str) -> None:
        """What cannot be used as it was told is wrong usage with the reason, never left out in silence."""
        ended = soundbow("identify", "--registry", registry, *told)
        assert ended.code == 2
        assert words in " ".join(ended.err.split())

    def test_all_faults_at_once(self, soundbow, registry: Path) -> None:
        """What cannot be read is wrong usage, and each fault is told."""
        told = ["--mass-kg", "heavy", "--cast", "once", "--loops", "many", "--unregistered", 2]
        ended = soundbow("identify", "--registry", registry, *told)
        assert ended.code == 2
        for name in ("--mass-kg", "--cast", "--loops", "--unregistered"):
            assert name in ended.err
        assert "Traceback" not in ended.err

    @pytest.mark.parametrize("words", [[], ["--hum-hz", "300"], ["--material", "unknown"]])
    def test_something_must_be_told(self, soundbow, registry: Path, words: list[str]) -> None:
        """Without a fact that can be compared there is nothing to answer."""
        ended = soundbow("identify", "--registry", registry, *words)
        assert ended.code == 2
        assert "at least one fact" in ended.err

    def test_no_registry(self, soundbow, tmp_path: Path) -> None:
        """A file that is not there is told, without a trace."""
        ended = soundbow("identify", "--registry", tmp_path / "none.db", "--mass-kg", 400)
        assert ended.code == 1
        assert "none.db" in ended.err

    def test_an_empty_registry(self, soundbow, tmp_path: Path) -> None:
        """A registry without bells has none of them, for certain."""
        form = tmp_path / "empty.yaml"
        form.write_text(
            "form: soundbow survey 1\n"
            "survey: {id: e-2020, kind: visit, date: 2020-01-01, surveyors: [Ada], not_inspected: []}\n"
            "tower: {id: e, name: Empty, place: Nowhere}\n",
            encoding="utf-8",
        )
        path = tmp_path / "empty.db"
        assert soundbow("load", form, "--registry", path).code == 0
        ended = soundbow("identify", "--registry", path, "--mass-kg", 400, "--format", "json")
        assert ended.code == 0
        assert ended.data["none"] == 1.0
        assert soundbow("twins", "--registry", path).code == 0


FORM = """form: soundbow survey 1
survey: {id: depot-2026, kind: visit, date: 2026-01-05, surveyors: [Ada Invented], not_inspected: []}
tower: {id: depot, name: Depot, place: Town}
bells:
  - id: depot-1
    identity: {status: standing}
    dimensions: {mouth_diameter_mm: 54.9 cm}
    inscriptions: [{number: 1, place: shoulder, transcription: "abcdefgh[---]", legibility: partly}]
"""


class TestForm:
    """The find as a filled form."""

    def test_a_form_is_read_like_any_other(self, soundbow, registry: Path, tmp_path: Path) -> None:
        """Its facts are compared, with units and signs of the edition."""
        form = tmp_path / "found.yaml"
        form.write_text(FORM, encoding="utf-8")
        data = soundbow("identify", "--registry", registry, "--form", form, "--format", "json").data
        assert data["compared"] == ["mouth_diameter_mm", "inscription"]
        first = {each["bell_id"] for each in data["candidates"][:2]}
        assert first == {"sint-brandaan-klepklok", "vellmark-museum-alphabet"}

    def test_an_option_stands_in_the_place_of_what_the_form_says(
        self, soundbow, registry: Path, tmp_path: Path
    ) -> None:
        """A diameter told beside the form is the one compared."""
        form = tmp_path / "found.yaml"
        form.write_text(FORM, encoding="utf-8")
        asked = ("identify", "--registry", registry, "--form", form, "--format", "json")
        by_form, by_option = (soundbow(*asked, *more).data for more in ((), ("--mouth-diameter-mm", 1200)))
        weight = [
            next(
                each["bits"]
                for each in data["candidates"][0]["factors"]
                if each["fact"] == "mouth_diameter_mm"
            )
            for data in (by_form, by_option)
        ]
        assert weight[0] > 3.0 > weight[1]

    def test_a_bell_on_record_is_not_compared_with_itself(self, soundbow, registry: Path) -> None:
        """A form of the museum asks which other record a bell of it may be."""
        form = CHECKOUT / "sample_data" / "surveys" / "vellmark-museum-2011.yaml"
        asked = ("identify", "--registry", registry, "--form", form)
        data = soundbow(*asked, "--bell", "vellmark-museum-alphabet", "--format", "json").data
        assert data["candidates"][0]["bell_id"] == "sint-brandaan-klepklok"
        assert "vellmark-museum-alphabet" not in {each["bell_id"] for each in data["candidates"]}
        several = soundbow(*asked)
        assert several.code == 2
        assert "oud-wierhoek-maria" in several.err

    def test_a_faulty_form(self, soundbow, registry: Path) -> None:
        """Every error of the form is told, and the code is that of problems in the input."""
        form = CHECKOUT / "sample_data" / "faulty" / "many-faults.yaml"
        ended = soundbow("identify", "--registry", registry, "--form", form)
        assert ended.code == 1
        assert ended.err.count("error") > 3
        assert "Traceback" not in ended.err


class TestTwins:
    """Records that may be one bell."""

    def test_the_alphabet_bell(self, soundbow, registry: Path) -> None:
        """The sample district has one pair: the bell bought in 1931, and the one missing since 1890."""
        ended = soundbow("twins", "--registry", registry, "--format", "json")
        (pair,) = ended.data["pairs"]
        assert ended.code == 0
        assert [bell["id"] for bell in pair["bells"]] == [
            "sint-brandaan-klepklok",
            "vellmark-museum-alphabet",
        ]
        assert pair["probability"] > 0.3
        assert pair["factors"][0]["fact"] == "inscription"
        assert json.dumps(ended.data)

    def test_for_people(self, soundbow, registry: Path) -> None:
        """The sheet names both with their towers, and says what to do."""
        ended = soundbow("twins", "--registry", registry)
        assert ended.code == 0
        assert ended.out.startswith("1 pair of ")
        assert "District Museum" in ended.out
        assert "look at the bell" in ended.out
