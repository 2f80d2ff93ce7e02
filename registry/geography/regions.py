"""Regions with their borders, read from GeoJSON (RFC 7946), which puts longitude first.

A feature has an ``id`` (its own, or among its properties) and the properties ``name``, and as wished ``kind``
(district, deanery, county), ``valid`` (an EDTF interval), ``parent`` (the id of the region it belongs to) and
``version_of``: a border that changed stands in the file once for each time, every version under an id of its
own, and all but one of them name that one as ``version_of``.
"""

import json
import re
import reprlib
import unicodedata
from typing import Any, NamedTuple

from registry.geography.rings import Border, BorderError, border_of


class Region(NamedTuple):
    """A region with its border.

    ``geometry`` is a shapely polygon or multipolygon of longitudes and latitudes, cut at the antimeridian;
    ``uncut`` says that the file has it otherwise. ``kind``, ``valid``, ``parent`` and ``version_of`` are
    empty where the file does not tell; ``valid`` is as written, not yet read.
    """

    id: str
    name: str
    geometry: Any
    kind: str = ""
    valid: str = ""
    parent: str = ""
    version_of: str = ""
    uncut: bool = False


class RegionFault(NamedTuple):
    """One thing wrong in a region file: where, what was read, what belongs there, what to do.

    ``line`` and ``column`` tell where a file ends to be JSON; they are 0 where ``path`` tells the place.
    """

    path: str
    read: str
    expected: str
    remedy: str
    line: int = 0
    column: int = 0


class RegionError(ValueError):
    """Everything wrong in a region file, problem code ``bad-region``.

    ``times`` are the times of validity as written, each with its path: they are not read here, and may be
    wrong as well.
    """

    code = "bad-region"

    def __init__(self, faults: list[RegionFault], times: dict[str, str]) -> None:
        super().__init__("; ".join(f"{fault.path}: expected {fault.expected}" for fault in faults[:5]))
        self.faults = faults
        self.times = times


def read_regions(text: str) -> list[Region]:
    """Read regions from GeoJSON polygons (RFC 7946), each with an ``id`` and a ``name``.

    Parameters
    ----------
    text : str
        A FeatureCollection, or one Feature; the id stands in the feature or in its properties.

    Raises
    ------
    RegionError
        Listing everything wrong in the file.
    """
    reader = _RegionReader()
    regions = reader.read(text)
    if reader.faults:
        raise RegionError(reader.faults, reader.times)
    return regions


_IDENTIFIER = re.compile("(?=.{1,80}$)[a-z0-9]+(-[a-z0-9]+)*").fullmatch
LONGEST_WORD = 100
LONGEST_NAME = 200
_WGS84 = ("CRS84", "EPSG::4326", "EPSG:4326")


class _RegionReader:
    """Reads one file and gathers what is wrong in it."""

    def __init__(self) -> None:
        self.faults: list[RegionFault] = []
        self.seen: dict[str, str] = {}
        self.times: dict[str, str] = {}

    def fault(
        self, path: str, read: object, expected: str, remedy: str, at: tuple[int, int] = (0, 0)
    ) -> None:
        shown = "nothing" if read is None else reprlib.repr(read)
        self.faults.append(RegionFault(path, shown, expected, remedy, *at))

    def read(self, text: str) -> list[Region]:
        try:
            data = json.loads(text, parse_constant=_refuse_constant, object_pairs_hook=_refuse_repeats)
        except json.JSONDecodeError as error:
            here = text[error.pos : error.pos + 20] or None
            wanted, remedy = "JSON text (RFC 8259)", f"mend the file there: {error.msg}"
            self.fault("", here, wanted, remedy, (error.lineno, error.colno))
            return []
        except ValueError as error:
            self.fault("", text[:20], "JSON text (RFC 8259)", f"mend the file: {error}")
            return []
        except RecursionError:
            self.fault("", text[:20], "JSON text (RFC 8259)", "mend the file: it is nested too deep")
            return []
        kind = data.get("type") if isinstance(data, dict) else None
        features = data.get("features") if kind == "FeatureCollection" else [data]
        if kind not in ("FeatureCollection", "Feature") or not isinstance(features, list) or not features:
            wanted = "a FeatureCollection with features, or one Feature"
            self.fault("", kind, wanted, "export the regions as GeoJSON")
            return []
        if "crs" in data and not any(name in json.dumps(data["crs"]) for name in _WGS84):
            self.fault("crs", data["crs"], "WGS 84 coordinates, and no crs", "export in WGS 84 (EPSG 4326)")
        read = [self.feature(f"features[{place}]", feature) for place, feature in enumerate(features)]
        return [region for region in read if region]

    def feature(self, path: str, feature: object) -> Region | None:
        if not isinstance(feature, dict) or feature.get("type") != "Feature":
            self.fault(path, feature, "a Feature", "wrap the polygon in a Feature with an id and a name")
            return None
        properties = feature.get("properties")
        properties = properties if isinstance(properties, dict) else {}
        id_ = feature.get("id", properties.get("id"))
        name = properties.get("name")
        if not isinstance(id_, str) or not _IDENTIFIER(id_):
            self.fault(f"{path}.id", id_, "an id of small letters, digits and single hyphens", "add an id")
        elif id_ in self.seen:
            self.fault(f"{path}.id", id_, "an id of its own", f"{self.seen[id_]} has it already")
        else:
            self.seen[id_] = path
        if not isinstance(name, str) or not name.strip():
            self.fault(f"{path}.properties.name", name, "a name", "add the name of the region")
        elif len(name.strip()) > LONGEST_NAME:
            wanted = f"a name of at most {LONGEST_NAME} characters"
            self.fault(f"{path}.properties.name", name, wanted, "shorten it")
        else:
            self.visible(f"{path}.properties.name", name)
        kind, valid = (self.word(path, properties, key) for key in ("kind", "valid"))
        if valid:
            self.times[f"{path}.properties.valid"] = valid
        parent, version = (self.other_region(path, properties, key, id_) for key in ("parent", "version_of"))
        border = self.geometry(f"{path}.geometry", feature.get("geometry"))
        if border is None:
            return None
        return Region(
            str(id_), str(name).strip(), border.geometry, kind, valid, parent, version, border.uncut
        )

    def word(self, path: str, properties: dict[str, Any], key: str) -> str:
        value = properties.get(key)
        if value is None:
            return ""
        if not isinstance(value, str) or not 1 <= len(value.strip()) <= LONGEST_WORD:
            wanted = f"text of at most {LONGEST_WORD} characters"
            self.fault(f"{path}.properties.{key}", value, wanted, f"write it as text, or leave {key} out")
            return ""
        return value.strip() if self.visible(f"{path}.properties.{key}", value) else ""

    def visible(self, path: str, text: str) -> bool:
        """Refuse characters that no one can see: they would be stored, or could not be."""
        hidden = next((sign for sign in text.strip() if _is_hidden(sign)), "")
        if hidden:
            remedy = "delete it, and write what was meant"
            self.fault(path, f"U+{ord(hidden):04X} in {text}", "characters that can be seen", remedy)
        return not hidden

    def other_region(self, path: str, properties: dict[str, Any], key: str, own: object) -> str:
        value = properties.get(key)
        if value is None:
            return ""
        if not isinstance(value, str) or not _IDENTIFIER(value) or value == own:
            remedy = f"name the region by its id, or leave {key} out"
            self.fault(f"{path}.properties.{key}", value, "the id of another region", remedy)
            return ""
        return value

    def geometry(self, path: str, geometry: object) -> Border | None:
        kind = geometry.get("type") if isinstance(geometry, dict) else None
        if not isinstance(geometry, dict) or kind not in ("Polygon", "MultiPolygon"):
            self.fault(path, kind, "a Polygon or MultiPolygon", "give the border as a closed area")
            return None
        coordinates = geometry.get("coordinates")
        polygons = [coordinates] if kind == "Polygon" else coordinates
        before = len(self.faults)
        if not isinstance(polygons, list) or not polygons:
            self.fault(path, coordinates, "at least one polygon", "add its rings")
            return None
        for place, polygon in enumerate(polygons):
            where = f"{path}.coordinates" + (f"[{place}]" if kind == "MultiPolygon" else "")
            if not isinstance(polygon, list) or not polygon:
                self.fault(where, polygon, "a list of rings", "add the outer ring")
                continue
            for number, ring in enumerate(polygon):
                self.ring(f"{where}[{number}]", ring)
        return self.shape(path, polygons) if len(self.faults) == before else None

    def ring(self, path: str, ring: object) -> None:
        if not isinstance(ring, list) or len(ring) < 4:
            self.fault(path, ring, "a ring of at least four positions", "add the missing corners")
            return
        for place, position in enumerate(ring):
            if not _is_position(position):
                remedy = "longitude stands first, then latitude, in degrees of WGS 84"
                self.fault(f"{path}[{place}]", position, "a longitude and a latitude", remedy)
                return
        if ring[0] != ring[-1]:
            self.fault(
                path, ring[-1], "a ring that ends where it begins", "repeat the first position at the end"
            )

    def shape(self, path: str, polygons: list[Any]) -> Border | None:
        try:
            return border_of(polygons)
        except BorderError as error:
            wanted, remedy = "rings that neither cross nor overlap", "mend the border there"
            self.fault(path, str(error), wanted, remedy)
            return None


def _refuse_constant(name: str) -> float:
    raise ValueError(f"{name} is no number in JSON")


def _refuse_repeats(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    members = dict(pairs)
    if len(members) < len(pairs):
        raise ValueError("a member stands twice in one object")
    return members


def _is_hidden(sign: str) -> bool:
    """Say whether a character is a control, half of a pair, or steers others; joiners of letters are none."""
    return unicodedata.category(sign) in ("Cc", "Cf", "Cs", "Zl", "Zp") and sign not in "\u200c\u200d"


def _is_position(position: object) -> bool:
    """Say whether a value is a GeoJSON position: longitude, latitude and perhaps a height."""
    return (
        isinstance(position, list)
        and 2 <= len(position) <= 3
        and all(isinstance(number, int | float) and not isinstance(number, bool) for number in position)
        and -180 <= position[0] <= 180
        and -90 <= position[1] <= 90
    )
