"""Statistics of the bells that a question finds, as tables: rows, method, and what was left out."""

from collections import defaultdict
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from statistics import median
from typing import Any, NamedTuple

from registry.derive.castings import Dated, castings, spread
from registry.derive.law import law_of
from registry.derive.reach import Reach, reach_of
from registry.derive.survival import survival
from registry.geography.areas import Area, write_area
from registry.geography.hull import Hull
from registry.store.search import Search
from registry.store.statistics import (
    FounderBells,
    TowerBells,
    WeighedRow,
    read_dated,
    read_founders,
    read_towers_of,
    read_weighed,
    read_workshops,
)
from registry.wording.words import plural

Row = dict[str, Any]

DECADE = 10
PERIOD = 50
PERCENT = 100.0
FEWEST_WEIGHED = 3
"""Bells with a mass on record from which on a founder is set against the law."""


class Table(NamedTuple):
    """One of the statistics.

    Parameters
    ----------
    name : str
        As in addresses and on the command line.
    title : str
        Heading.
    columns : dict
        The columns of its rows, with what each means.
    rows : list of dict
        The rows.
    method : str
        How they were made, with its source.
    beside : list of str
        What they leave out, and why.
    """

    name: str
    title: str
    columns: Mapping[str, str]
    rows: list[Row]
    method: str
    beside: list[str]


CASTINGS_COLUMNS = {
    "first_year": "first year of the decade",
    "last_year": "last year of the decade",
    "certain": "bells cast in it for certain",
    "expected": "bells expected in it, those in doubt counting in parts",
    "low": "lower end of the 90 % interval",
    "high": "upper end of the 90 % interval",
    "possible": "bells that may have been cast in it",
}
REACH_COLUMNS = {
    "founder_id": "founder, by id",
    "founder": "name",
    "bells": "bells found",
    "towers": "towers with coordinates where they are",
    "basis": "where distances begin: workshop, or middle of the towers where no workshop is on record",
    "origin_latitude_deg": "latitude of that place",
    "origin_longitude_deg": "longitude of that place",
    "median_km": "median distance of the bells",
    "farthest_km": "greatest distance",
    "hull_km2": "area of the convex hull of the towers; empty below three towers or beyond 5000 km",
    "hull": "corners of the hull in the spelling of an area to ask for: longitude,latitude",
    "unplaced": "bells without coordinates",
}
MASSES_COLUMNS = {
    "bell_id": "bell, by id",
    "name": "name",
    "founder_id": "founder, by id",
    "founder": "founder as written",
    "material": "what it is cast from",
    "mouth_diameter_mm": "mouth diameter",
    "mass_kg": "mass on record",
    "mass_basis": "how it was obtained",
    "law_kg": "mass by the law of its material, from the diameter alone",
    "law_low_kg": "lower end of its 90 % interval",
    "law_high_kg": "upper end of its 90 % interval",
    "ratio": "mass on record to that of the law",
}
SURVIVAL_COLUMNS = {
    "first_year": "first year of the period",
    "last_year": "last year of the period",
    "exist": "bells that exist, those in doubt of their date counting in parts",
    "gone": "bells known to be destroyed or recast",
    "unknown": "bells of unknown fate: lost, stolen, requisitioned, or nothing told",
    "share_percent": "share of those of known fate that exist",
    "low_percent": "lower end of its 90 % interval",
    "high_percent": "upper end of its 90 % interval",
    "least_percent": "the share if all of unknown fate were gone",
    "most_percent": "the share if all of unknown fate existed",
}


class FounderReach(NamedTuple):
    """How far the bells of one founder went, and the towers they are in."""

    founder: FounderBells
    towers: list[TowerBells]
    reach: Reach


class Statistics:
    """The statistics of one question; each is made when it is asked for."""

    def __init__(self, search: Search) -> None:
        self.search = search
        self._dated = cache(lambda: read_dated(search))
        self.spread = cache(self._spread)
        self.reaches = cache(self._reaches)
        self.castings = cache(lambda: castings(self.spread(DECADE), DECADE))
        self.survival = cache(lambda: survival(self.spread(PERIOD), self._dated().statuses, PERIOD))
        self.founders = cache(lambda: read_founders(search))
        self.weighed = cache(lambda: read_weighed(search))

    def table(self, name: str, most: int | None = None) -> Table:
        """Make one of ``TABLES``; ``most`` founders at most where it goes by founder."""
        return _MAKERS[name](self, most)

    def _spread(self, years: int) -> Dated:
        """Spread the bells over periods."""
        return spread(self._dated().spans, years)

    def _reaches(self, most: int | None = None) -> list[FounderReach]:
        """Measure how far the bells of founders went, those with most bells first."""
        workshops = read_workshops(self.search.conn)
        placed = [each for each in self.founders()[0] if each.unplaced < each.bells][:most]
        towers = read_towers_of(self.search, [founder.founder_id for founder in placed])
        return [
            FounderReach(
                founder,
                towers[founder.founder_id],
                reach_of(
                    [
                        ((each.latitude_deg, each.longitude_deg), each.bells)
                        for each in towers[founder.founder_id]
                    ],
                    workshops.get(founder.founder_id),
                ),
            )
            for founder in placed
        ]

    def undated(self, dated: Dated) -> list[str]:
        """Say which bells could not be spread."""
        said = []
        if dated.undated:
            said.append(f"{plural(dated.undated, 'bell')} undated")
        if dated.open_ended:
            said.append(f"{plural(dated.open_ended, 'bell')} with an open end of the date")
        return said


def _castings(statistics: Statistics, _most: int | None) -> Table:
    rows = [each._asdict() for each in statistics.castings()]
    for row in rows:
        row["expected"] = round(row["expected"], 4)
    return Table(
        "castings",
        "Bells per decade",
        CASTINGS_COLUMNS,
        rows,
        "A bell whose date leaves several years counts in parts, evenly over all of them; the interval is"
        " that of a sum of independent trials (Poisson's binomial distribution).",
        statistics.undated(statistics.spread(DECADE)),
    )


def _reach(statistics: Statistics, most: int | None) -> Table:
    rows = []
    for founder, towers, reach in statistics.reaches(most):
        rows.append(
            {
                "founder_id": founder.founder_id,
                "founder": founder.name,
                "bells": founder.bells,
                "towers": len(towers),
                "basis": reach.basis,
                "origin_latitude_deg": reach.origin[0],
                "origin_longitude_deg": reach.origin[1],
                "median_km": round(reach.median_km, 3),
                "farthest_km": round(reach.farthest_km, 3),
                "hull_km2": round(reach.hull.area_km2, 3) if reach.hull else None,
                "hull": _outline(reach.hull),
                "unplaced": founder.unplaced,
            }
        )
    founders, without = statistics.founders()
    beside = []
    if without:
        beside.append(f"{plural(without, 'bell')} of founders without an id")
    if unplaced := sum(founder.unplaced == founder.bells for founder in founders):
        beside.append(f"{plural(unplaced, 'founder')} none of whose bells has coordinates")
    if any(row["basis"] == "middle" for row in rows):
        beside.append(
            "distances from the middle of the towers wherever no workshop with a place is on record"
        )
    return Table(
        "reach",
        "How far founders' bells went",
        REACH_COLUMNS,
        rows,
        "Geodesics on the WGS 84 ellipsoid, from the workshop to where each bell is today; the hull is that"
        " of the towers, its area that of the geodesic polygon (Karney 2013).",
        beside,
    )


def _outline(hull: Hull | None) -> str | None:
    """Write the corners of a hull as an area to ask for."""
    if hull is None:
        return None
    return write_area(Area(((tuple((east, north) for north, east in hull.corners),),)))


def _masses(statistics: Statistics, _most: int | None) -> Table:
    rows = []
    for bell in statistics.weighed():
        law = law_of(bell.material or "unknown")
        value = low = high = None
        if law is not None:
            mass = law.mass_by_size(bell.mouth_diameter_mm / 1000.0)
            value, (low, high) = mass.value, mass.interval
        rows.append(
            bell._asdict()
            | {
                "law_kg": value and round(value, 1),
                "law_low_kg": low and round(low, 1),
                "law_high_kg": high and round(high, 1),
                "ratio": value and round(bell.mass_kg / value, 4),
            }
        )
    return masses_in_short(statistics)._replace(rows=rows)


def founders_against_law(weighed: Sequence[WeighedRow], most: int | None = None) -> list[Row]:
    """Compare by founder the masses on record with the law, those with most bells first."""
    by_founder: dict[str, list[WeighedRow]] = defaultdict(list)
    for bell in weighed:
        if bell.founder_id and law_of(bell.material or "unknown"):
            by_founder[bell.founder_id].append(bell)
    told = [item for item in by_founder.items() if len(item[1]) >= FEWEST_WEIGHED]
    rows = []
    for founder_id, bells in sorted(told, key=lambda item: (-len(item[1]), item[0]))[:most]:
        ratios = []
        for bell in bells:
            law = law_of(bell.material or "unknown")
            if law is not None:
                ratios.append(bell.mass_kg / law.mass_by_size(bell.mouth_diameter_mm / 1000.0).value)
        rows.append(
            {
                "founder_id": founder_id,
                "founder": bells[0].founder or founder_id,
                "bells": len(bells),
                "median_ratio": round(median(ratios), 4),
                "least_ratio": round(min(ratios), 4),
                "greatest_ratio": round(max(ratios), 4),
            }
        )
    return rows


def masses_in_short(statistics: Statistics) -> Table:
    """Say of the masses how they were made and what was left out, without the rows."""
    source = getattr(law_of("bronze"), "source", "")
    without = statistics.search.total - len(statistics.weighed())
    return Table(
        "masses",
        "Mass against diameter",
        MASSES_COLUMNS,
        [],
        f"Masses as stated or weighed, beside the similarity law of the material. {source}".strip(),
        [f"{plural(without, 'bell')} without a diameter or without a mass on record"] if without else [],
    )


def _survival(statistics: Statistics, _most: int | None) -> Table:
    rows = []
    for each in statistics.survival():
        row: Row = {"first_year": each.first_year, "last_year": each.last_year}
        row |= {name: round(getattr(each, name), 4) for name in ("exist", "gone", "unknown")}
        for name in ("share", "low", "high", "least", "most"):
            value = getattr(each, name)
            row[f"{name}_percent"] = None if value is None else round(PERCENT * value, 2)
        rows.append(row)
    return Table(
        "survival",
        "Bells that still exist",
        SURVIVAL_COLUMNS,
        rows,
        "Bells that exist of those whose fate is known, with Wilson's score interval (1927). A bell that is"
        " gone stands in the record only if somebody wrote of it: early losses are missing, and the shares of"
        " early periods are too high.",
        statistics.undated(statistics.spread(PERIOD)),
    )


_MAKERS: dict[str, Callable[[Statistics, int | None], Table]] = {
    "castings": _castings,
    "reach": _reach,
    "masses": _masses,
    "survival": _survival,
}
TABLES = tuple(_MAKERS)
"""The names of the statistics."""
