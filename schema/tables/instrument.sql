-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- An instrument that was used, and how far it can be trusted.
CREATE TABLE instrument (
    survey_id TEXT NOT NULL REFERENCES survey (id),  -- The survey that tells it.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the form, counted from 1.
    kind TEXT NOT NULL CHECK (kind = 'tape' OR kind = 'rule' OR kind = 'caliper' OR kind = 'feeler-gauge' OR kind = 'depth-gauge' OR kind = 'laser-distance' OR kind = 'scanner' OR kind = 'template' OR kind = 'ultrasonic' OR kind = 'scales' OR kind = 'accelerometer' OR kind = 'sound-level-meter' OR kind = 'recorder' OR kind = 'tuning-forks' OR kind = 'frequency-meter' OR kind = 'stopwatch' OR kind = 'thermometer' OR kind = 'hardness-tester' OR kind = 'lens' OR kind = 'penetrant' OR kind = 'position' OR kind = 'camera' OR kind = 'level' OR kind = 'other'),  -- What it is.
    name TEXT CHECK (length(name) BETWEEN 1 AND 200),  -- Maker, model, number.
    tolerance_mm REAL CHECK (tolerance_mm BETWEEN 0.001 AND 50),  -- Largest error of one reading, for lengths.
    tolerance_hz REAL CHECK (tolerance_hz BETWEEN 0.0001 AND 20),  -- Largest error of one reading, for frequencies.
    checked TEXT CHECK (length(checked) BETWEEN 1 AND 200),  -- When it was last checked against a standard.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, ordinal)
) STRICT, WITHOUT ROWID;
