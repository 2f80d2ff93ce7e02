-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- A part that could not be inspected, and the reason.
CREATE TABLE not_inspected (
    survey_id TEXT NOT NULL REFERENCES survey (id),  -- The survey that tells it.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the form, counted from 1.
    part TEXT NOT NULL CHECK (part = 'whole-bell' OR part = 'outside' OR part = 'inside' OR part = 'soundbow' OR part = 'lip' OR part = 'strike-points' OR part = 'waist' OR part = 'shoulder' OR part = 'crown' OR part = 'staple' OR part = 'inscriptions' OR part = 'clapper' OR part = 'headstock' OR part = 'bearings' OR part = 'drive' OR part = 'clock-hammer' OR part = 'fittings' OR part = 'sound' OR part = 'mass' OR part = 'frame' OR part = 'tower' OR part = 'access'),  -- The part.
    reason TEXT NOT NULL CHECK (length(reason) BETWEEN 1 AND 1000),  -- Why: no access, raised bell, nest, darkness, no time...
    bell TEXT CHECK (bell <> '' AND bell NOT GLOB '*[^a-z0-9-]*' AND bell NOT GLOB '-*' AND bell NOT GLOB '*-' AND bell NOT GLOB '*--*'),  -- The bell concerned, where it is a part of one bell.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, ordinal)
) STRICT, WITHOUT ROWID;
