-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- An event in the bell's life.
CREATE TABLE event (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the form, counted from 1.
    kind TEXT NOT NULL CHECK (kind = 'cast' OR kind = 'recast-from' OR kind = 'recast-into' OR kind = 'metal-from' OR kind = 'metal-into' OR kind = 'companion-of' OR kind = 'replaces' OR kind = 'replaced-by' OR kind = 'blessed' OR kind = 'hung' OR kind = 'moved' OR kind = 'turned' OR kind = 'canons-removed' OR kind = 'weighed' OR kind = 'tuned' OR kind = 'cracked' OR kind = 'welded' OR kind = 'repaired' OR kind = 'clapper-replaced' OR kind = 'rehung' OR kind = 'taken-down' OR kind = 'hidden' OR kind = 'requisitioned' OR kind = 'returned' OR kind = 'stolen' OR kind = 'found' OR kind = 'lost' OR kind = 'destroyed' OR kind = 'sold' OR kind = 'retired' OR kind = 'protected' OR kind = 'inspected' OR kind = 'recorded' OR kind = 'other'),  -- What happened.
    date TEXT CHECK (length(date) BETWEEN 1 AND 200),  -- When, as EDTF.
    place TEXT CHECK (length(place) BETWEEN 1 AND 300),  -- Where.
    tower TEXT CHECK (tower <> '' AND tower NOT GLOB '*[^a-z0-9-]*' AND tower NOT GLOB '-*' AND tower NOT GLOB '*-' AND tower NOT GLOB '*--*'),  -- Id of the tower it came from or went to.
    actor TEXT CHECK (length(actor) BETWEEN 1 AND 300),  -- Who did it: founder, firm, authority.
    other_bell TEXT CHECK (other_bell <> '' AND other_bell NOT GLOB '*[^a-z0-9-]*' AND other_bell NOT GLOB '-*' AND other_bell NOT GLOB '*-' AND other_bell NOT GLOB '*--*'),  -- The other bell: recast from or into, companion, in whose place.
    turned_by_deg REAL CHECK (turned_by_deg BETWEEN 0 AND 360),  -- For a turning: by how much.
    source TEXT CHECK (length(source) BETWEEN 1 AND 500),  -- What says so.
    certainty TEXT CHECK (certainty = 'certain' OR certainty = 'probable' OR certainty = 'possible' OR certainty = 'doubtful' OR certainty = 'unknown'),  -- How certain it is.
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 2000),  -- Anything else.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id, ordinal),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
