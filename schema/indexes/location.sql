-- Where the towers stand, to find the near ones; the exact coordinates are those of tower_current.
CREATE VIRTUAL TABLE tower_location USING rtree (
    number,
    west_deg, east_deg,
    south_deg, north_deg,
    +tower_id TEXT
);
