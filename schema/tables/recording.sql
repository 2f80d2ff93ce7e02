-- What the analysis of a recording found at the load: computed, never observed; the file itself stays beside the form.
CREATE TABLE recording (
    survey_id TEXT NOT NULL REFERENCES survey (id),  -- The survey whose form names the recording.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place among the attachments of the form, counted from 1.
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell that sounds.
    file TEXT NOT NULL,  -- Path relative to the form.
    sha256 TEXT NOT NULL CHECK (length(sha256) = 64),  -- Of the bytes of the file.
    size_bytes INTEGER NOT NULL,  -- Length of the file.
    modified_ns INTEGER NOT NULL,  -- Time of its last change, nanoseconds since 1970.
    rules TEXT NOT NULL,  -- Fingerprint of the way to compute; under another one the file is analysed again.
    mouth_diameter_mm REAL,  -- Newest diameter of the bell, to judge how long it rings.
    temperature_c REAL,  -- Temperature at the recording, as the survey tells it of the bell, else of the visit.
    rate_hz REAL,  -- Samples a second; empty where the file could not be read.
    duration_s REAL,  -- Length of the recording.
    strokes INTEGER,  -- Strokes found.
    followed_s REAL,  -- How long one of them was followed.
    noise_db REAL,  -- Level below which a partial would not have been found, over the loudest one.
    third TEXT,  -- minor, neutral or major; empty where the bell has none of them.
    refused TEXT,  -- Code of the problem where nothing could be judged.
    refused_because TEXT,  -- What was found.
    signs TEXT NOT NULL CHECK (json_valid(signs) AND json_type(signs) = 'array'),  -- Signs worth a closer look, JSON: code, text, source.
    PRIMARY KEY (survey_id, ordinal)
) STRICT, WITHOUT ROWID;
