-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- The sound as judged by ear and by hand.
CREATE TABLE sound (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    note TEXT CHECK (length(note) BETWEEN 1 AND 200),  -- Strike note: C#4, cis', or a frequency in strike_hz.
    note_cents REAL CHECK (note_cents BETWEEN -60 AND 60),  -- Deviation from the note, in cents.
    note_sixteenths REAL CHECK (note_sixteenths BETWEEN -10 AND 10),  -- Deviation in sixteenths of a semitone, signed.
    reference_hz REAL CHECK (reference_hz BETWEEN 390 AND 480),  -- Frequency of a' the note refers to; 435 or 440.
    strike_hz REAL CHECK (strike_hz BETWEEN 20 AND 8000),  -- Strike note as a frequency (half the nominal).
    heard TEXT CHECK (length(heard) BETWEEN 1 AND 2000),  -- What was heard: clear, dull, jarring, beats.
    rings_for_s REAL CHECK (rings_for_s BETWEEN 0.2 AND 600),  -- Audible ring after one stroke, by stopwatch.
    temperature_c REAL CHECK (temperature_c BETWEEN -50 AND 60),  -- Temperature of the bell when it was heard.
    method TEXT CHECK (length(method) BETWEEN 1 AND 300),  -- How the frequencies were read: tuning forks, meter, analysis.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
