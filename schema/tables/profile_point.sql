-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- One point of the bell's section, from the lip upwards.
CREATE TABLE profile_point (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the form, counted from 1.
    height_mm REAL NOT NULL CHECK (height_mm BETWEEN 0 AND 6500),  -- Height above the lip, upright; 0 there.
    diameter_mm REAL NOT NULL CHECK (diameter_mm BETWEEN 0 AND 6700),  -- Outer diameter at this height; 0 in the middle of the head.
    thickness_mm REAL CHECK (thickness_mm BETWEEN 0 AND 650),  -- Wall here, square to the outside; at the lip the width of its edge.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id, ordinal),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
