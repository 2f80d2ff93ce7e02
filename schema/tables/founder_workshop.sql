-- Where founders cast.
CREATE TABLE founder_workshop (
    founder_id TEXT NOT NULL REFERENCES founder_told (id),  -- The founder.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the file, counted from 1.
    place TEXT NOT NULL,  -- Town or village.
    latitude_deg REAL CHECK (latitude_deg BETWEEN -90 AND 90),  -- Degrees north, WGS 84.
    longitude_deg REAL CHECK (longitude_deg BETWEEN -180 AND 180),  -- Degrees east, WGS 84.
    valid TEXT,  -- When, EDTF.
    source TEXT,  -- What says so.
    remarks TEXT,  -- Anything else.
    PRIMARY KEY (founder_id, ordinal)
) STRICT, WITHOUT ROWID;
