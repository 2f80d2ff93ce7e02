-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- The survey: one visit to one tower, or one document that speaks of its bells.
CREATE TABLE survey (
    id TEXT NOT NULL CHECK (id <> '' AND id NOT GLOB '*[^a-z0-9-]*' AND id NOT GLOB '-*' AND id NOT GLOB '*-' AND id NOT GLOB '*--*'),  -- Permanent id of this survey.
    tower_id TEXT NOT NULL REFERENCES tower (id),  -- The tower.
    source_path TEXT NOT NULL UNIQUE REFERENCES source (path),  -- The form it was read from.
    as_of TEXT NOT NULL,  -- The day whose state it tells: the day of the visit, or the last day the document can be from.
    kind TEXT NOT NULL CHECK (kind = 'visit' OR kind = 'document'),  -- A visit to the tower, or a document.
    date TEXT NOT NULL CHECK (date(date, '+0 days') IS date),  -- The day of the visit, or the day on which the document was read.
    surveyors TEXT NOT NULL CHECK (json_valid(surveyors) AND json_type(surveyors) = 'array'),  -- Everyone who measured or judged, or who read the document.
    purpose TEXT CHECK (length(purpose) BETWEEN 1 AND 500),  -- Why the survey was made.
    weather TEXT CHECK (length(weather) BETWEEN 1 AND 200),  -- Weather, wind, wet or dry bells.
    temperature_c REAL CHECK (temperature_c BETWEEN -50 AND 60),  -- Temperature in the bell chamber.
    language TEXT CHECK (length(language) BETWEEN 1 AND 200),  -- Language of the remarks in this form.
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 8000),  -- Anything the fields have no room for.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (id)
) STRICT, WITHOUT ROWID;
