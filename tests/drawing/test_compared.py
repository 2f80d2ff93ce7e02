"""Masses against diameters, a ring against a scale, partials on an axis of cents."""

from xml.etree import ElementTree as ET

import pytest

from registry.drawing import svg
from registry.drawing.decay import Ring, decay_drawing
from registry.drawing.masses import BandPoint, MarkedBell, WeighedBell, mass_drawing
from registry.drawing.spectrum import NARROW, WIDE, Stem, spectrum_drawing
from registry.drawing.tuning import TunedBell, tuning_drawing

HOSTILE = '</title><script>alert("x")</script>&'

BELLS = [
    WeighedBell("Maria", 1000.0, 600.0, weighed=True),
    WeighedBell("Anna", 2000.0, 4800.0, weighed=False),
]
BAND = [BandPoint(mm, 6e-7 * mm**3, 5e-7 * mm**3, 7e-7 * mm**3) for mm in (500.0, 1000.0, 2000.0, 4000.0)]
MARKED = MarkedBell("Petrus", 1400.0, 1700.0, 1650.0, 1400.0, 1900.0)

PARTIALS = [
    Stem("hum", -2400.0, -6.0, -2400.0),
    Stem("prime", -1230.0, -8.0, -1200.0),
    Stem("tierce", -900.0, 0.0, -884.4, split_cents=9.0),
    Stem("nominal", 0.0, -3.0, 0.0),
]


def test_a_law_of_the_third_power_is_a_straight_line() -> None:
    """On logarithmic axes m = k d³ is straight, and a bell on it lies on it."""
    drawing = mass_drawing(BELLS, BAND)
    assert drawing is not None
    points = [tuple(map(float, each.split())) for each in drawing.middle[1:].split("L")]
    (x0, y0), (x1, y1) = points
    assert [(dot.x, dot.y) for dot in drawing.dots] == [(x0, y0), (x1, y1)]
    middle = mass_drawing(BELLS, BAND, MARKED._replace(mass_kg=6e-7 * 1400.0**3))
    assert middle is not None
    assert middle.seen is not None
    (x0, y0), (x1, y1) = ((dot.x, dot.y) for dot in middle.dots)
    expected = y0 + (y1 - y0) * (middle.seen[0] - x0) / (x1 - x0)
    assert middle.seen[1] == pytest.approx(expected, abs=0.2)


def test_everything_of_the_masses_lies_within_the_drawing() -> None:
    """Dots, band, estimate and marks stay inside, and heavier is higher."""
    drawing = mass_drawing(BELLS, BAND, MARKED)
    assert drawing is not None
    assert drawing.bar is not None
    places = [(dot.x, dot.y) for dot in drawing.dots]
    places += [tuple(map(float, each.split())) for each in drawing.band[1:-1].split("L")]
    assert all(drawing.left <= x <= drawing.width and 0.0 <= y <= drawing.base for x, y in places)
    assert drawing.bar[2] > drawing.bar[1] > drawing.bar[3]
    assert [mark.value for mark in drawing.masses] == sorted(mark.value for mark in drawing.masses)


def test_the_band_is_cut_at_the_bells() -> None:
    """What the law says far from any bell is not drawn."""
    near = mass_drawing(BELLS, BAND)
    assert near is not None
    assert near.middle.count("L") == 1


def test_nothing_to_compare_is_not_drawn() -> None:
    """Neither bell nor law, neither ring nor partials: no drawing."""
    assert mass_drawing([], BAND) is None
    assert tuning_drawing([]) is None
    assert spectrum_drawing(PARTIALS[:1]) is None


def test_a_bell_on_the_scale_stands_on_the_axis_and_a_sharp_one_to_the_right() -> None:
    """The axis is the scale; the interval reaches as far as it is wide."""
    drawing = tuning_drawing(
        [TunedBell("Maria", "C4", 0.0, -2.0, 2.0), TunedBell("Anna", "E4", 20.0, 18.0, 22.0)]
    )
    assert drawing is not None
    true, sharp = drawing.rows
    assert true.x == drawing.zero_x
    assert sharp.x > drawing.zero_x
    per_cent = (sharp.x - drawing.zero_x) / 20.0
    assert sharp.high_x - sharp.low_x == pytest.approx(4.0 * per_cent, abs=0.2)
    assert all(drawing.left <= x <= drawing.width for x, _ in drawing.marks)
    assert true.y < sharp.y


@pytest.mark.parametrize("name", ["A", "Maria", "Gratiosa et benedicta", "x" * 300])
def test_a_long_name_is_cut_to_its_column(name: str) -> None:
    """A name never runs into the chart; the table beneath has it in full."""
    drawing = tuning_drawing([TunedBell(name, "C4", 0.0, -2.0, 2.0)])
    assert drawing is not None
    assert len(drawing.rows[0].label) <= 14


@pytest.mark.parametrize("width", [WIDE, NARROW])
def test_stems_stand_at_their_cents_and_as_high_as_they_are_loud(width: float) -> None:
    """An octave is as long everywhere; the loudest partial is the tallest, a doublet has two stems."""
    drawing = spectrum_drawing(PARTIALS, width)
    assert drawing is not None
    hum, prime, tierce, nominal = drawing.stems
    marks = {cents: x for x, cents in drawing.marks}
    assert hum.x == marks[-2400]
    assert nominal.x == marks[0]
    assert prime.x < marks[-1200]
    assert tierce.top < nominal.top < hum.top < prime.top
    assert tierce.pair_x is not None
    assert tierce.pair_x > tierce.x
    assert drawing.levels


def test_stems_without_levels_are_alike() -> None:
    """Where nobody measured how loud the partials are, no stem is taller than another."""
    drawing = spectrum_drawing([stem._replace(level_db=None) for stem in PARTIALS])
    assert drawing is not None
    assert len({stem.top for stem in drawing.stems}) == 1
    assert not drawing.levels


def test_names_of_crowded_partials_do_not_meet() -> None:
    """Names that would overlap stand in different lines, and above the stems."""
    crowd = [Stem("octave-nominal", 100.0 * place) for place in range(8)] + [Stem("hum", -2400.0)]
    drawing = spectrum_drawing(crowd, NARROW)
    assert drawing is not None
    half = len("octave-nominal") * 6.8 / 2.0
    for first in drawing.stems:
        for second in drawing.stems:
            if first is not second and first.line_y == second.line_y and first.label == second.label:
                assert abs(first.label_x - second.label_x) >= 2 * half - 0.2
        assert first.line_y < first.top


def test_comparisons_are_well_formed_and_hold_no_foreign_element() -> None:
    """A name that is markup stays text in every drawing."""
    masses = mass_drawing(BELLS, BAND, MARKED)
    ring = tuning_drawing([TunedBell(HOSTILE, HOSTILE, 0.0, -2.0, 2.0)])
    spectrum = spectrum_drawing([PARTIALS[0]._replace(name=HOSTILE), *PARTIALS[1:]])
    assert masses is not None
    assert ring is not None
    assert spectrum is not None
    for text in (
        svg.masses_svg(masses, HOSTILE, HOSTILE),
        svg.tuning_svg(ring, HOSTILE, HOSTILE),
        svg.spectrum_svg(spectrum, HOSTILE, HOSTILE),
    ):
        root = ET.fromstring(text)  # noqa: S314 - our own text
        assert root.tag.endswith("svg")
        assert not [each for each in root.iter() if "script" in each.tag]


def test_a_bar_is_as_long_as_the_partial_rings() -> None:
    """Bars grow with the seconds; one of which only a bound is known is open at its end."""
    drawing = decay_drawing(
        [Ring("hum", 20.0, 19.0, 21.0), Ring("tierce", 10.0, 9.0, 11.0), Ring("quint", None, 15.0, None)]
    )
    assert drawing is not None
    hum, tierce, quint = drawing.rows
    assert hum.end_x - drawing.left == pytest.approx(2.0 * (tierce.end_x - drawing.left), abs=0.2)
    assert quint.open
    assert quint.low_x is None
    assert not hum.open
    assert all(row.end_x <= drawing.width for row in drawing.rows)
    assert decay_drawing([Ring("hum", None, None, None)]) is None
    ET.fromstring(svg.decay_svg(drawing, HOSTILE, HOSTILE))  # noqa: S314 - our own text
