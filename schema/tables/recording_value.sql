-- What was computed from a recording: strike note, partials, their decay, levels and deviations.
CREATE TABLE recording_value (
    survey_id TEXT NOT NULL,  -- The survey whose form names the recording.
    ordinal INTEGER NOT NULL,  -- Place among the attachments of the form.
    number INTEGER NOT NULL CHECK (number > 0),  -- Running number among the values of this recording.
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell.
    quantity TEXT NOT NULL,  -- What is computed, with its unit: hum_hz, hum_t60_s, hum_level_db, hum_doublet_hz.
    value REAL,  -- Best estimate; empty where there is none, and the note says why.
    unit TEXT NOT NULL,  -- Unit of value, low and high.
    low REAL,  -- Lower end of the interval.
    high REAL,  -- Upper end of the interval.
    level REAL NOT NULL CHECK (level BETWEEN 0 AND 1),  -- Probability that the interval holds the true value.
    method TEXT NOT NULL,  -- Name of the method.
    version INTEGER NOT NULL,  -- Version of the method.
    inputs TEXT NOT NULL CHECK (json_valid(inputs) AND json_type(inputs) = 'object'),  -- The recording by its SHA-256, and what else went in, JSON.
    source TEXT NOT NULL,  -- Where the method is published.
    note TEXT NOT NULL,  -- A caveat for the reader.
    PRIMARY KEY (survey_id, ordinal, number),
    FOREIGN KEY (survey_id, ordinal) REFERENCES recording (survey_id, ordinal)
) STRICT, WITHOUT ROWID;
