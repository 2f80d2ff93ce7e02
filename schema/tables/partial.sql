-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- One partial tone heard or read by hand.
CREATE TABLE partial (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the form, counted from 1.
    name TEXT NOT NULL CHECK (name = 'hum' OR name = 'prime' OR name = 'tierce' OR name = 'quint' OR name = 'nominal' OR name = 'tenth' OR name = 'eleventh' OR name = 'superquint' OR name = 'octave-nominal'),  -- Which partial.
    frequency_hz REAL NOT NULL CHECK (frequency_hz BETWEEN 15 AND 20000),  -- Its frequency.
    beat_hz REAL CHECK (beat_hz BETWEEN 0 AND 60),  -- Beats a second, where it is a doublet.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id, ordinal),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
