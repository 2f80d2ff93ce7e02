-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- How the bell is rung, and how much.
CREATE TABLE ringing (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    style TEXT CHECK (style = 'swinging' OR style = 'swinging-low' OR style = 'full-circle' OR style = 'full-rotation' OR style = 'chiming' OR style = 'clock-only' OR style = 'carillon' OR style = 'silent' OR style = 'unknown'),  -- How it is rung.
    swing_angle_deg REAL CHECK (swing_angle_deg BETWEEN 0 AND 360),  -- Swing to one side from hanging.
    strokes INTEGER CHECK (strokes BETWEEN 2 AND 10000),  -- Strokes counted.
    strokes_in_s REAL CHECK (strokes_in_s BETWEEN 1 AND 36000),  -- Time in which they were counted.
    hours_a_year REAL CHECK (hours_a_year BETWEEN 0 AND 8784),  -- Swinging, hours a year.
    clock_strikes_a_day INTEGER CHECK (clock_strikes_a_day BETWEEN 0 AND 20000),  -- Hammer blows of the clock a day.
    in_use TEXT CHECK (in_use = 'yes' OR in_use = 'no' OR in_use = 'unknown'),  -- Is the bell rung today?
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 2000),  -- Ringing customs, restrictions.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
