-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- The surveyor's own judgement of one component, in four steps each.
CREATE TABLE assessment (
    survey_id TEXT NOT NULL REFERENCES survey (id),  -- The survey that tells it.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the form, counted from 1.
    component TEXT NOT NULL CHECK (component = 'bell' OR component = 'crown' OR component = 'clapper' OR component = 'fittings' OR component = 'frame' OR component = 'access' OR component = 'tower'),  -- What is judged.
    condition INTEGER CHECK (condition BETWEEN 0 AND 3),  -- 0 no symptoms, 1 slight, 2 marked, 3 grave.
    urgency INTEGER CHECK (urgency BETWEEN 0 AND 3),  -- 0 can wait, 1 within years, 2 soon, 3 at once.
    recommendation INTEGER CHECK (recommendation BETWEEN 0 AND 3),  -- 0 nothing, 1 upkeep, 2 repair or closer look, 3 major work after diagnosis.
    bell TEXT CHECK (bell <> '' AND bell NOT GLOB '*[^a-z0-9-]*' AND bell NOT GLOB '-*' AND bell NOT GLOB '*-' AND bell NOT GLOB '*--*'),  -- The bell, where the component is not the whole tower's.
    reasons TEXT CHECK (length(reasons) BETWEEN 1 AND 2000),  -- What the judgement rests on.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, ordinal)
) STRICT, WITHOUT ROWID;
