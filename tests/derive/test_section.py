"""The section-integrated mass: density, crown, tolerances, and sections that do not make a mass."""

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sections import invented_bell, points

from registry.derive.constants import constants
from registry.derive.mass import mass_estimates
from registry.derive.section import Allowed, section_mass
from registry.model.bell import ProfilePoint
from registry.model.vocabulary import vocabulary

EXACT = Allowed(0.0, 0.0)


class TestMass:
    """Density, crown, tolerances."""

    def test_plausible(self):
        """The invented bell of 1 m weighs what the similarity law leads one to expect of its size."""
        told = section_mass(invented_bell())
        by_size = mass_estimates(1000.0)[0]
        assert by_size.low < told.value < by_size.high
        assert told.low < told.value < told.high
        assert told.high / told.low < 1.2

    def test_density_and_crown(self):
        """Mass is volume by density, and a share for the crown; C91300 has 8800 kg/m³ (CDA), held."""
        plain = section_mass(invented_bell(), crown_kind="flat-top")
        crowned = section_mass(invented_bell(), crown_kind="canons")
        volume = plain.inputs["volume_m3"]
        assert plain.value == pytest.approx(volume * constants("section")["densities"]["bronze"][0])
        assert plain.low < volume * 8800.0 < plain.high
        assert crowned.value / plain.value == pytest.approx(1.03)
        assert "3 % added for the crown" in crowned.note

    def test_steel(self):
        """Cast steel has 7870 kg/m³ (Callister), held."""
        told = section_mass(invented_bell(), material="cast-steel", crown_kind="flat-top")
        assert told.low < told.inputs["volume_m3"] * 7870.0 < told.high

    def test_head(self):
        """A measured head counts; without it the last wall stands for it, and the note says so."""
        assumed = section_mass(invented_bell())
        measured = section_mass(invented_bell(), head_thickness_mm=60.0)
        assert "head taken to be flat" in assumed.note
        assert "head" not in measured.note
        assert measured.value > assumed.value

    def test_tolerances_of_the_wall(self):
        """A gauge that errs by a tenth of the wall everywhere leaves about a tenth of the mass open."""
        cup = points(*((100.0 * step, 1000.0, 30.0) for step in range(9)))
        told = section_mass(cup, head_thickness_mm=30.0, tolerances=Allowed(0.0, 3.0))
        sure = section_mass(cup, head_thickness_mm=30.0, tolerances=EXACT)
        added = math.sqrt(math.log(told.high / told.value) ** 2 - math.log(sure.high / sure.value) ** 2)
        assert added == pytest.approx(0.1, rel=0.1)

    def test_tolerances_of_the_outside(self):
        """Errors of the outside widen the interval, those of many points less than one common error."""
        bell = invented_bell()
        widths = [
            math.log(each.high / each.low)
            for each in (
                section_mass(bell, tolerances=EXACT),
                section_mass(bell, tolerances=Allowed(5.0, 0.0)),
                section_mass(bell, tolerances=Allowed(10.0, 0.0)),
            )
        ]
        assert widths == sorted(widths)
        assert widths[0] < widths[-1]

    def test_few_points_leave_more_open(self):
        """The fewer the points the wider the interval, by what the curve between them may be."""
        few = section_mass(invented_bell(count=6), tolerances=EXACT)
        many = section_mass(invented_bell(count=24), tolerances=EXACT)
        assert few.high / few.low > many.high / many.low

    def test_what_it_rests_on(self):
        """Method, quantity, level and inputs are told."""
        told = section_mass(invented_bell())
        assert (told.quantity, told.method, told.level) == ("mass_kg", "section", 0.9)
        assert told.inputs["profile_points"] == 12
        assert "Pappus" in told.source


class TestIncomplete:
    """Sections that make no mass, with the reason."""

    @pytest.mark.parametrize(
        ("profile", "reason"),
        [
            (invented_bell()[:4], "at least 5 points"),
            (invented_bell()[2:], "do not begin at the lip"),
            ([invented_bell()[0]._replace(thickness_mm=None), *invented_bell()[1:]], "width of the lip"),
            ([p._replace(thickness_mm=None) if i else p for i, p in enumerate(invented_bell())], "wall at 3"),
            (
                [p._replace(thickness_mm=None) if 0 < i < 6 else p for i, p in enumerate(invented_bell())],
                "sound-bow is missing",
            ),
            (
                [p._replace(thickness_mm=None) if i > 6 else p for i, p in enumerate(invented_bell())],
                "upper waist is missing",
            ),
        ],
    )
    def test_what_is_missing(self, profile, reason):
        """A section with a gap gives no mass and says what is missing."""
        told = section_mass(profile)
        assert told.value is None
        assert reason in told.note

    def test_nothing_measured(self):
        """Where no section was measured there is nothing to tell."""
        assert section_mass([]) is None

    @pytest.mark.parametrize("material", [*vocabulary("material").terms, None])
    def test_every_material_is_decided(self, material):
        """Each word of the vocabulary has a density, or gives no mass and says why."""
        told = section_mass(invented_bell(), material=material)
        assert told.value is not None or "density" in told.note

    def test_every_crown_is_decided(self):
        """Each word of the vocabulary of crowns has its share."""
        assert constants("section")["crowns"].keys() == vocabulary("crown_kind").terms.keys()

    @settings(deadline=None)
    @given(
        st.lists(
            st.tuples(st.floats(0.0, 2000.0), st.floats(0.0, 3000.0), st.none() | st.floats(0.0, 650.0)),
            min_size=1,
            max_size=10,
        )
    )
    def test_any_section_is_survived(self, rows):
        """Whatever points a form may hold, there is a mass that is no nonsense, or a reason for none."""
        heights = sorted({height for height, _, _ in rows})
        told = section_mass(
            [ProfilePoint(height, *row[1:]) for height, row in zip(heights, rows, strict=False)]
        )
        assert told.value is None or (0.0 <= told.low <= told.value <= told.high < math.inf)
