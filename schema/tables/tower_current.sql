-- One row per tower: of each fact the newest that any survey tells.
CREATE TABLE tower_current (
    id TEXT NOT NULL REFERENCES tower (id),  -- Permanent id of the tower.
    name TEXT NOT NULL,  -- Name of the tower.
    place TEXT NOT NULL,  -- Town or village.
    region TEXT,  -- Id of its region.
    country TEXT,  -- Country, ISO 3166-1.
    latitude_deg REAL,  -- Latitude, WGS 84.
    longitude_deg REAL,  -- Longitude, WGS 84.
    accuracy_m REAL,  -- How far the coordinates may be off.
    owner TEXT,  -- Who owns the bells or answers for them.
    contact TEXT,  -- Office to ask for access.
    protection TEXT,  -- Protection as a monument.
    protection_source TEXT,  -- The list or decision that says so.
    natural_frequency_hz REAL,  -- Measured lowest sway frequency.
    access TEXT,  -- Way up.
    bells INTEGER NOT NULL,  -- Bells whose newest survey places them here.
    bells_gone INTEGER NOT NULL,  -- Those of them that are lost, stolen, destroyed, recast, requisitioned or moved.
    condition INTEGER CHECK (condition BETWEEN 0 AND 3),  -- Worst of the newest grades of the tower and its bells.
    urgency INTEGER CHECK (urgency BETWEEN 0 AND 3),  -- Worst of the newest grades of urgency.
    surveys INTEGER NOT NULL CHECK (surveys > 0),  -- Number of surveys.
    last_survey_id TEXT NOT NULL REFERENCES survey (id),  -- The newest survey.
    last_survey_date TEXT NOT NULL,  -- Day whose state that survey tells.
    last_visit_date TEXT,  -- Day of the newest visit; empty where there are only documents.
    PRIMARY KEY (id)
) STRICT, WITHOUT ROWID;
