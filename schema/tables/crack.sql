-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- A crack, or the statement that one was looked for.
CREATE TABLE crack (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    number INTEGER NOT NULL CHECK (number BETWEEN 1 AND 99),  -- Running number on this bell, the same at every visit.
    state TEXT NOT NULL CHECK (state = 'none' OR state = 'suspected' OR state = 'confirmed'),  -- None found, suspected, confirmed.
    position TEXT CHECK (position = 'lip' OR position = 'soundbow' OR position = 'waist' OR position = 'shoulder' OR position = 'crown' OR position = 'canons' OR position = 'whole-height'),  -- Where on the bell.
    orientation TEXT CHECK (orientation = 'vertical' OR orientation = 'horizontal' OR orientation = 'slanting' OR orientation = 'star' OR orientation = 'branched' OR orientation = 'unknown'),  -- How it runs.
    bearing_deg REAL CHECK (bearing_deg BETWEEN 0 AND 360),  -- As for strike points.
    side TEXT CHECK (side = 'outside' OR side = 'inside' OR side = 'through' OR side = 'unknown'),  -- Outside, inside, or through the wall.
    start_height_mm REAL CHECK (start_height_mm BETWEEN 0 AND 6500),  -- Height of its lower end above the lip.
    end_height_mm REAL CHECK (end_height_mm BETWEEN 0 AND 6500),  -- Height of its upper end above the lip.
    length_mm REAL CHECK (length_mm BETWEEN 0 AND 9000),  -- Length along the crack.
    opening_mm REAL CHECK (opening_mm BETWEEN 0 AND 60),  -- Widest opening.
    growth TEXT CHECK (growth = 'none-seen' OR growth = 'grown' OR growth = 'first-seen' OR growth = 'unknown'),  -- Has it grown, as far as marks on the bell show?
    method TEXT CHECK (method = 'eye' OR method = 'lens' OR method = 'penetrant' OR method = 'ultrasound' OR method = 'eddy-current' OR method = 'magnetic' OR method = 'sound' OR method = 'radiography' OR method = 'other'),  -- How it was looked for.
    repaired TEXT CHECK (repaired = 'no' OR repaired = 'stop-hole' OR repaired = 'stitched' OR repaired = 'welded' OR repaired = 'cut-out' OR repaired = 'soldered' OR repaired = 'unknown'),  -- What was done about it, if anything.
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 1000),  -- Anything else on this crack.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id, number),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
