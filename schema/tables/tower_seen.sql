-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- The tower and who answers for it.
CREATE TABLE tower_seen (
    survey_id TEXT NOT NULL REFERENCES survey (id),  -- The survey that tells it.
    tower_id TEXT NOT NULL REFERENCES tower (id),  -- The tower.
    name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200),  -- Name of the tower or its church, hall, gate.
    place TEXT NOT NULL CHECK (length(place) BETWEEN 1 AND 200),  -- Town, village or quarter.
    latitude_deg REAL CHECK (latitude_deg BETWEEN -90 AND 90),  -- WGS 84, north positive.
    longitude_deg REAL CHECK (longitude_deg BETWEEN -180 AND 180),  -- WGS 84, east positive.
    accuracy_m REAL CHECK (accuracy_m BETWEEN 0.1 AND 100000),  -- How far the coordinates may be off.
    region TEXT CHECK (region <> '' AND region NOT GLOB '*[^a-z0-9-]*' AND region NOT GLOB '-*' AND region NOT GLOB '*-' AND region NOT GLOB '*--*'),  -- Id of the region, as in the region file.
    country TEXT CHECK (country GLOB '[A-Z][A-Z]'),  -- Two letters, ISO 3166-1.
    owner TEXT CHECK (length(owner) BETWEEN 1 AND 300),  -- Who owns the bells or answers for them.
    contact TEXT CHECK (length(contact) BETWEEN 1 AND 300),  -- Office to ask for access. No private data: it is published.
    protection TEXT CHECK (protection = 'protected' OR protection = 'pending' OR protection = 'not-protected' OR protection = 'unknown'),  -- Is the tower or its bells a protected monument?
    protection_source TEXT CHECK (length(protection_source) BETWEEN 1 AND 300),  -- The list or decision that says so, with its number.
    natural_frequency_hz REAL CHECK (natural_frequency_hz BETWEEN 0.05 AND 30),  -- Measured lowest sway frequency of the tower.
    access TEXT CHECK (length(access) BETWEEN 1 AND 2000),  -- Way up: keys, ladders, trapdoors, openings in mm.
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 4000),  -- Anything else on the tower.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id)
) STRICT, WITHOUT ROWID;
