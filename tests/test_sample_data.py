"""The invented district: every form loads and holds what its README promises."""

import re
from collections import defaultdict

import pytest
from sample_forms import (
    FORMS,
    README,
    checked,
    entries,
    inscriptions,
    materials,
    measured,
    surveys,
    visits,
)

from registry.forms.across import check_across, footprint
from registry.problems import Level


class TestForms:
    """What the check says of the forms."""

    @pytest.mark.parametrize("path", FORMS, ids=lambda path: path.stem)
    def test_loads_without_errors(self, path):
        """Every form is read and has no error."""
        form = checked()[path.name]
        assert form.read is not None
        assert not [problem for problem in form.problems if problem.level is Level.ERROR]

    def test_warnings_are_those_listed(self):
        """The warnings of all forms, alone and against each other, are exactly the README's table."""
        forms = checked().values()
        found = [problem for form in forms for problem in form.problems]
        found += check_across([footprint(form.read, name) for name, form in checked().items()], ())
        assert {problem.level for problem in found} == {Level.WARNING}
        listed = re.findall(r"^\| `([^`]+\.yaml)` \| `([^`]+)` \| `([^`]+)` \|", README, re.MULTILINE)
        assert sorted((problem.file, problem.code, problem.path) for problem in found) == sorted(listed)

    @pytest.mark.parametrize("path", FORMS, ids=lambda path: path.stem)
    def test_says_that_it_is_invented(self, path):
        """The first line says that the data are invented, the second which form it is; no form is huge."""
        text = path.read_text(encoding="utf-8")
        first, second = text.splitlines()[:2]
        assert first.startswith("# ")
        assert "invented demonstration data" in first.lower()
        assert second == "form: soundbow survey 1"
        assert len(text.encode()) <= 40_000

    def test_readme_tells_provenance(self):
        """The README says invented, names the licence, and lists every form and every tower."""
        assert "**Vellmark does not exist.**" in README
        assert "**Provenance**" in README
        assert "CC0 1.0" in README
        for each in surveys():
            assert f"| `{each.tower.id}` |" in README
        named = set()
        for tower, forms in re.findall(r"^\| `([a-z-]+)` \| (`.+?) \|", README, re.MULTILINE):
            for name in re.findall("`([^`]+)`", forms):
                named.add(tower + name if name.startswith("-") else name)
        assert named == {path.stem for path in FORMS}


class TestPromises:
    """What the sample holds for people to look at."""

    def test_size(self):
        """At least 15 towers, 65 bells and 28 forms, as many as the README says."""
        towers = {each.tower.id for each in surveys()}
        bells = {bell.id for _, bell in entries()}
        documents = [each for each in surveys() if each.survey.kind == "document"]
        assert len(towers) >= 15
        assert len(bells) >= 65
        assert len(FORMS) >= 28
        told = f"{len(FORMS)} forms: {len(visits())} visits and {len(documents)} documents"
        assert f"{told}, {len(towers)} towers, {len(bells)} bells" in README

    def test_masses(self):
        """Weighed bells go from about 8 kg to about 4 t."""
        masses = [mass for *_, mass, _ in measured() if mass]
        assert min(masses) == pytest.approx(8, abs=0.5)
        assert max(masses) == pytest.approx(4000, rel=0.02)

    def test_materials(self):
        """Bronze mostly, at least three bells of cast steel, one of cast iron."""
        found = list(materials().values())
        assert set(found) == {"bronze", "cast-steel", "cast-iron"}
        assert found.count("cast-steel") >= 3
        assert found.count("cast-iron") == 1
        assert found.count("bronze") > len(found) / 2

    def test_three_visits(self):
        """At least five towers were visited three times over 20 years or more."""
        years = defaultdict(list)
        for each in visits():
            years[each.tower.id].append(int(each.survey.date[:4]))
        assert len([all_ for all_ in years.values() if len(all_) >= 3 and all_[-1] - all_[0] >= 20]) >= 5

    def test_documents(self):
        """Inventories, requisition lists and a foundry record speak of bells, some of them gone."""
        kinds = {each.survey.document.kind for each in surveys() if each.survey.document}
        assert {"inventory", "requisition-list", "foundry-record"} <= kinds

    def test_fates(self):
        """Every fate a bell can have but unknown is there, and every event that leads to it."""
        states = {bell.identity.status for _, bell in entries() if bell.identity}
        assert states >= {
            *("hanging", "standing", "on-display", "moved", "requisitioned", "lost", "stolen", "destroyed"),
            "recast",
        }
        events = {event.kind for _, bell in entries() for event in bell.events}
        assert events >= {
            *("turned", "welded", "cracked", "requisitioned", "returned", "stolen", "found", "moved"),
            *("destroyed", "lost", "recast-from", "recast-into", "rehung", "clapper-replaced", "retired"),
        }

    def test_cracks(self):
        """Cracks are suspected, confirmed and through, and one was welded and looked at again."""
        cracks = [crack for _, bell in entries() for crack in bell.cracks]
        assert {crack.state for crack in cracks} == {"none", "suspected", "confirmed"}
        assert any(crack.side == "through" for crack in cracks)
        assert any(crack.repaired == "welded" for crack in cracks)

    def test_protection(self):
        """Bells are protected, not protected and of unknown status; each wartime class has its source."""
        identities = [bell.identity for _, bell in entries() if bell.identity]
        assert {each.protected for each in identities} >= {"yes", "no", "unknown"}
        classes = [each for each in identities if each.wartime_class]
        assert {each.wartime_class for each in classes} == {"a", "b", "c", "d", "exempt", "unknown"}
        assert all(each.wartime_class_source for each in classes)

    def test_raised_bells(self):
        """One visit inspected nothing, because the bells were left mouth up; the next one measured all."""
        raised = next(each for each in visits() if each.tower.id == "bramblethwaite-st-anne")
        assert {part.bell for part in raised.survey.not_inspected if part.part == "whole-bell"} == {
            bell.id for bell in raised.bells
        }
        assert all(bell.dimensions is None for bell in raised.bells)
        assert any(hazard.kind == "raised-bell" for hazard in raised.hazards)

    def test_scripts_and_languages(self):
        """At least six scripts and a dozen languages, old and living, stand on the bells."""
        scripts = {each.script for each in inscriptions()}
        assert scripts >= {"Latn", "Latf", "Latg", "Cyrl", "Grek", "Hebr"}
        languages = {each.language for each in inscriptions()}
        assert languages >= {
            *("la", "de", "gmh", "gml", "fr", "frm", "en", "nl", "dum", "cs", "pl", "ru", "uk"),
            *("cu", "el", "grc", "he", "ga"),
        }

    def test_letters(self):
        """Lombardic capitals and black letter are there; lines run backwards, or are mirrored."""
        assert {each.lettering for each in inscriptions()} >= {
            "lombardic",
            "black-letter",
            "fraktur",
            "roman",
        }
        assert {each.direction for each in inscriptions()} >= {
            *("onwards", "retrograde", "mirrored", "single-letters-mirrored"),
        }

    @pytest.mark.parametrize("sign", [*"ꝑꝓꝗꝰꝝūẸ", "n̄", "A͡V", "(n)", "[---]", "[...]", "⟦Z⟧", "⟨u⟩", "{zu}"])
    def test_marks(self, sign):
        """Abbreviation marks of the Middle Ages and Leiden signs are used."""
        assert any(sign in (each.transcription or "") for each in inscriptions())

    def test_units(self):
        """Lengths stand in mm, bare or with the unit, cm, m and inches; masses in kg, cwt-qr-lb, lb and t."""
        written = defaultdict(list)
        for form in checked().values():
            for fields in form.read.written.values():
                for name, place in fields.items():
                    written[name.rpartition("_")[2]].append(place.text)
        for unit, patterns in {
            "mm": (r"[0-9.]+", r"[0-9.]+ mm", r"[0-9.]+ cm", r"[0-9.]+ m", r"[0-9]+ [0-9]/[0-9]+ in"),
            "kg": (r"[0-9.]+", r"[0-9.]+ kg", r"[0-9]+-[0-9]-[0-9]+", r"[0-9]+ lb", r"[0-9.]+ t"),
            "c": (r"[0-9.]+", r"[0-9.]+ °C", r"[0-9]+ °F"),
        }.items():
            for pattern in patterns:
                assert any(re.fullmatch(pattern, text) for text in written[unit]), f"{unit}: {pattern}"


NUMERALS = {"I": 1, "V": 5, "X": 10, "L": 50, "C": 100, "D": 500, "M": 1000}


def chronogram(text: str) -> int:
    """Add the capitals that are Roman numerals, without subtraction (J. Hilton, Chronograms, 1882)."""
    return sum(NUMERALS.get(letter, 0) for letter in text)


class TestDates:
    """Years hidden in letters, and dates that hang together."""

    def test_chronogram_rule(self):
        """The rule gives 1668 for the bell of Clifton-on-Teme (H. B. Walters, Church Bells, 1908)."""
        assert chronogram("henrICVs Ieffreys keneLMo DeVoVIt") == 1668

    def test_chronograms(self):
        """Each chronogram adds up to the year of its bell, and hides no numeral among its small letters."""
        found = {
            (bell.identity.cast_text, bell.identity.cast_date)
            for survey, bell in entries("visit")
            if bell.identity and bell.identity.dating_basis == "chronogram"
        }
        assert len(found) == 2
        for text, year in found:
            assert chronogram(text) == int(year)
            assert not set(text) & set("ivxlcdmuj")
            assert any(text in (each.transcription or "").replace("· ", "") for each in inscriptions())

    def test_greek_date(self):
        """The Greek numerals of Pelagoussa are those of its year: 1000, 800, 70, 2 (Ionic numerals)."""
        values = {"͵α": 1000, "ω": 800, "ο": 70, "β": 2}
        cast = next(b.identity for _, b in entries() if b.id == "pelagoussa-st-nicholas-bell")
        assert cast.cast_text == "͵αωοβʹ"
        assert sum(values.values()) == int(cast.cast_date)
