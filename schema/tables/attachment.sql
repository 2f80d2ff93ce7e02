-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- A photo, drawing or recording kept beside the form.
CREATE TABLE attachment (
    survey_id TEXT NOT NULL REFERENCES survey (id),  -- The survey that tells it.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the form, counted from 1.
    file TEXT NOT NULL CHECK (file NOT GLOB '/*' AND '/' || file || '/' NOT GLOB '*/../*'),  -- Path relative to the form.
    kind TEXT NOT NULL CHECK (kind = 'photo' OR kind = 'recording' OR kind = 'drawing' OR kind = 'scan' OR kind = 'video' OR kind = 'model' OR kind = 'readings' OR kind = 'other'),  -- Photo, recording, drawing, scan.
    shows TEXT CHECK (length(shows) BETWEEN 1 AND 500),  -- What it shows, from where; for sound: strokes, microphone, at rest?
    bell TEXT CHECK (bell <> '' AND bell NOT GLOB '*[^a-z0-9-]*' AND bell NOT GLOB '-*' AND bell NOT GLOB '*-' AND bell NOT GLOB '*--*'),  -- The bell concerned, if it is one.
    credit TEXT CHECK (length(credit) BETWEEN 1 AND 300),  -- Who made it, and its licence.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, ordinal)
) STRICT, WITHOUT ROWID;
