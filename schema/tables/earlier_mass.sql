-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- A mass stated elsewhere before this survey.
CREATE TABLE earlier_mass (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the form, counted from 1.
    mass_kg REAL NOT NULL CHECK (mass_kg BETWEEN 1 AND 250000),  -- The mass stated.
    basis TEXT NOT NULL CHECK (basis = 'weighed' OR basis = 'founder-record' OR basis = 'inscribed' OR basis = 'calculated' OR basis = 'estimated' OR basis = 'unknown'),  -- How it was obtained.
    source TEXT NOT NULL CHECK (length(source) BETWEEN 1 AND 500),  -- Where it is stated.
    date TEXT CHECK (length(date) BETWEEN 1 AND 200),  -- When it was stated.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id, ordinal),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
