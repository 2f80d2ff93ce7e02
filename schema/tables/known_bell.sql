-- Bells whose note or mass tells something of others: what sisters and founders' habits are computed from.
CREATE TABLE known_bell (
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell.
    material TEXT NOT NULL,  -- What it is cast from.
    founder TEXT NOT NULL,  -- The founder's id, or his name; empty where nobody knows.
    tower_id TEXT NOT NULL,  -- The tower where it belongs.
    cast_year INTEGER,  -- Middle of the years it can have been cast in, where they are not far apart.
    mouth_diameter_mm REAL NOT NULL,  -- Outer diameter at the lip.
    strike_hz REAL,  -- Strike note: measured, from the note, or half the nominal.
    mass_kg REAL,  -- Mass from a scale or a founder's record, the bell alone.
    mass_tolerance_kg REAL,  -- Largest error of the weighing.
    mouth_diameter_tolerance_mm REAL NOT NULL,  -- How far the diameter can be trusted; 0 where nothing is told.
    strike_tolerance_cents REAL NOT NULL,  -- How far the strike note can be trusted; 0 where nothing is told.
    PRIMARY KEY (bell_id)
) STRICT, WITHOUT ROWID;
