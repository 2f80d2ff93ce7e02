-- Findings that ask for something, by the rules of grading, never observations: computed again at each load.
CREATE TABLE to_do (
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell; what belongs to its tower stands with each bell that hangs there.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Running number, the most urgent first.
    component TEXT NOT NULL,  -- The component it concerns.
    urgency INTEGER NOT NULL CHECK (urgency BETWEEN 0 AND 3),  -- 0 can wait or is told beside the grade, 1 within years, 2 soon, 3 at once.
    recommendation INTEGER NOT NULL CHECK (recommendation BETWEEN 0 AND 3),  -- 0 nothing, 1 upkeep, 2 repair or closer look, 3 major work after diagnosis.
    found TEXT NOT NULL,  -- What was found.
    do TEXT NOT NULL,  -- What to do.
    rule TEXT NOT NULL,  -- The rule that asks for it.
    survey_id TEXT REFERENCES survey (id),  -- The survey that found it.
    source TEXT NOT NULL,  -- What the rule rests on.
    PRIMARY KEY (bell_id, ordinal)
) STRICT, WITHOUT ROWID;
