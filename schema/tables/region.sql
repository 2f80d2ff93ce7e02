-- Regions with their borders, as the region files tell; a border that changed has one row for each time.
CREATE TABLE region (
    id TEXT NOT NULL CHECK (id <> '' AND id NOT GLOB '*[^a-z0-9-]*' AND id NOT GLOB '-*' AND id NOT GLOB '*-' AND id NOT GLOB '*--*'),  -- Permanent id of the region.
    name TEXT NOT NULL,  -- Name of the region.
    kind TEXT CHECK (length(kind) BETWEEN 1 AND 100),  -- What it is: district, diocese, county.
    valid TEXT,  -- When this border was in force, EDTF; empty where nothing is told.
    valid_from TEXT,  -- First day it can have been in force; empty where that is open or unknown.
    valid_until TEXT,  -- Last day it can have been in force; empty where that is open or unknown.
    parent TEXT CHECK (parent <> id),  -- Id of the region it belongs to, as the file states it.
    version_of TEXT CHECK (version_of <> id),  -- Id of the region of which this is the border of another time.
    source_path TEXT NOT NULL REFERENCES source (path),  -- The file it was read from.
    geojson TEXT NOT NULL CHECK (json_valid(geojson)),  -- Its border as a GeoJSON geometry, RFC 7946, longitude first, cut at the antimeridian.
    west_deg REAL NOT NULL CHECK (west_deg BETWEEN -180 AND 180),  -- Westernmost longitude.
    south_deg REAL NOT NULL CHECK (south_deg BETWEEN -90 AND 90),  -- Southernmost latitude.
    east_deg REAL NOT NULL CHECK (east_deg BETWEEN -180 AND 180),  -- Easternmost longitude.
    north_deg REAL NOT NULL CHECK (north_deg BETWEEN -90 AND 90),  -- Northernmost latitude.
    PRIMARY KEY (id)
) STRICT, WITHOUT ROWID;
