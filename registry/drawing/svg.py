"""The SVG text of the drawings, for pages and for paper.

The text carries classes and no colours: a page has its own style sheet, and paper gives one to each drawing.
Every drawing has words that say what it shows; nothing is told by colour alone.
"""

import re
from functools import cache

from jinja2 import Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from registry.drawing.bars import IntervalDrawing
from registry.drawing.decay import DecayDrawing
from registry.drawing.growth import GrowthDrawing
from registry.drawing.life import LifeDrawing
from registry.drawing.masses import MassDrawing
from registry.drawing.profile import ProfileDrawing
from registry.drawing.rim import RimDrawing
from registry.drawing.ring import BellOutline
from registry.drawing.shares import SharesDrawing
from registry.drawing.spectrum import SpectrumDrawing
from registry.drawing.tuning import TuningDrawing
from registry.drawing.unrolled import UnrolledDrawing
from registry.units import format_quantity

NAMED = re.compile(r'\bid="([a-z-]+)"')
"""A part of a drawing that is named to be referred to."""


@cache
def environment() -> Environment:
    """Make the template environment: every value is escaped, and a missing one is an error."""
    made = Environment(
        loader=PackageLoader("registry.drawing"),
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
    )
    made.filters["quantity"] = format_quantity
    return made


def _drawn(template: str, **values: object) -> Markup:
    text = environment().get_template(f"{template}.svg").render(**values)
    return Markup(text.strip())  # noqa: S704 - the template escapes every value


def standing_alone(svg: str, style: str) -> str:
    """Make a drawing a file of its own: with the address of its language, and the CSS ``style``."""
    opening, _, rest = svg.partition(">")
    return f'{opening} xmlns="http://www.w3.org/2000/svg">\n  <style>{style}</style>{rest}'


def with_own_names(svg: str, mark: str) -> Markup:
    """Give the parts of a drawing names of their own, for several drawings on one page."""
    for name in NAMED.findall(svg):
        svg = re.sub(rf'(?<=["# ]){re.escape(name)}(?=[")\s])', f"{name}-{mark}", svg)
    return Markup(svg)  # noqa: S704 - the template of the drawing has escaped every value


def profile_svg(drawing: ProfileDrawing, name: str) -> Markup:
    """Write the bell drawn with its sizes."""
    return _drawn("profile", drawing=drawing, name=name, words=profile_words(drawing))


def profile_words(drawing: ProfileDrawing) -> str:
    """Say what the drawing of the bell shows."""
    return " ".join(
        f"{size.name.capitalize()} {format_quantity(size.value_mm, 'mm')}"
        f"{'' if size.measured else ', assumed'}."
        for size in drawing.dimensions
    )


def rim_svg(drawing: RimDrawing, name: str) -> Markup:
    """Write the rim from above."""
    return _drawn("rim", drawing=drawing, name=name, words=rim_words(drawing))


def rim_words(drawing: RimDrawing) -> str:
    """Say what the drawing of the rim shows."""
    said = []
    for strike in drawing.strikes:
        old = ", from before the bell was turned" if strike.old else ""
        more = f": {', '.join(strike.words)}" if strike.words else ""
        said.append(
            f"Strike point {strike.number} at {format_quantity(strike.bearing_deg, 'deg')}{old}{more}."
        )
    for crack in drawing.cracks:
        through = ", through the wall" if crack.through else ""
        at = format_quantity(crack.bearing_deg, "deg")
        said.append(f"Crack {crack.number}, {crack.state}{through}, at {at}.")
    said += [
        f"Free for new strike points: {format_quantity(each.first_deg % 360, 'deg')} to"
        f" {format_quantity(each.last_deg % 360, 'deg')}."
        for each in drawing.free
    ]
    return " ".join(said)


def unrolled_svg(drawing: UnrolledDrawing, name: str) -> Markup:
    """Write the unrolled bell."""
    return _drawn("unrolled", drawing=drawing, name=name, words=unrolled_words(drawing))


def unrolled_words(drawing: UnrolledDrawing) -> str:
    """Say what the drawing of the unrolled bell shows."""
    said = [f"Strike point {strike.number}." for strike in drawing.strikes]
    for crack in drawing.cracks:
        state = f", {crack.state}" if crack.state != "none" else ", none found today"
        said.append(f"Crack {crack.number}{state}{', repaired' if crack.repair or crack.ends else ''}.")
    said += [f"Inscription: {text.text}." for text in drawing.texts]
    return " ".join(said) or "Nothing is marked."


def interval_svg(drawing: IntervalDrawing, words: str) -> Markup:
    """Write an estimate with its interval; ``words`` says the same."""
    return _drawn("interval", drawing=drawing, words=words)


def outline_svg(bell: BellOutline) -> Markup:
    """Write one bell of a row."""
    return _drawn("outline", bell=bell)


def growth_svg(drawing: GrowthDrawing, words: str) -> Markup:
    """Write readings over the years; ``words`` says the same."""
    return _drawn("growth", drawing=drawing, words=words)


def masses_svg(drawing: MassDrawing, name: str, words: str) -> Markup:
    """Write masses against diameters; ``words`` says what is marked."""
    return _drawn("masses", drawing=drawing, name=name, words=words)


def tuning_svg(drawing: TuningDrawing, name: str, words: str) -> Markup:
    """Write a ring held against a scale; ``words`` says the same."""
    return _drawn("tuning", drawing=drawing, name=name, words=words)


def spectrum_svg(drawing: SpectrumDrawing, name: str, words: str) -> Markup:
    """Write partials on an axis of cents; ``words`` says the same."""
    return _drawn("spectrum", drawing=drawing, name=name, words=words)


def decay_svg(drawing: DecayDrawing, name: str, words: str) -> Markup:
    """Write how long partials ring; ``words`` says the same."""
    return _drawn("decay", drawing=drawing, name=name, words=words)


def shares_svg(drawing: SharesDrawing, id_: str, name: str, words: str, style: str = "") -> Markup:
    """Write shares by period; ``id_`` tells it from other drawings of a page, ``words`` says the same."""
    return _drawn("shares", drawing=drawing, id=id_, name=name, words=words, style=style)


def life_svg(drawing: LifeDrawing, name: str, words: str) -> Markup:
    """Write stays and events through the years; ``words`` says where it was."""
    return _drawn("life", drawing=drawing, name=name, words=words)


DRAWERS = {
    "shares_svg": shares_svg,
    "life_svg": life_svg,
    "decay_svg": decay_svg,
    "growth_svg": growth_svg,
    "masses_svg": masses_svg,
    "spectrum_svg": spectrum_svg,
    "tuning_svg": tuning_svg,
    "profile_svg": profile_svg,
    "rim_svg": rim_svg,
    "unrolled_svg": unrolled_svg,
    "interval_svg": interval_svg,
    "outline_svg": outline_svg,
}
"""What writes drawings, by name, for templates."""
