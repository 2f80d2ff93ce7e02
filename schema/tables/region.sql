-- Regions with their borders.
CREATE TABLE region (
    id TEXT NOT NULL CHECK (id <> '' AND id NOT GLOB '*[^a-z0-9-]*' AND id NOT GLOB '-*' AND id NOT GLOB '*-' AND id NOT GLOB '*--*'),  -- Permanent id of the region.
    name TEXT NOT NULL,  -- Name of the region.
    source_path TEXT NOT NULL REFERENCES source (path),  -- The file it was read from.
    geojson TEXT NOT NULL CHECK (json_valid(geojson)),  -- Its border as a GeoJSON geometry, RFC 7946, longitude first.
    west_deg REAL NOT NULL CHECK (west_deg BETWEEN -180 AND 180),  -- Westernmost longitude.
    south_deg REAL NOT NULL CHECK (south_deg BETWEEN -90 AND 90),  -- Southernmost latitude.
    east_deg REAL NOT NULL CHECK (east_deg BETWEEN -180 AND 180),  -- Easternmost longitude.
    north_deg REAL NOT NULL CHECK (north_deg BETWEEN -90 AND 90),  -- Northernmost latitude.
    PRIMARY KEY (id)
) STRICT, WITHOUT ROWID;
