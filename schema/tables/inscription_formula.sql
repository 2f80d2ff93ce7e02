-- Recurrent formulas recognised in inscriptions, never observations: by the rules of schema/rules/formulas.yaml, again at each load.
CREATE TABLE inscription_formula (
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell.
    survey_id TEXT NOT NULL,  -- The survey that tells the inscription.
    number INTEGER NOT NULL,  -- Number of the inscription on its bell.
    formula TEXT NOT NULL,  -- Id of the formula.
    share REAL NOT NULL CHECK (share BETWEEN 0 AND 1),  -- Share of its letters that stand there.
    how TEXT NOT NULL CHECK (how IN ('words', 'initials')),  -- Whether its words stand there or their initials.
    backwards INTEGER NOT NULL CHECK (backwards IN (0, 1)),  -- 1: read from the end of the line.
    "begin" INTEGER NOT NULL,  -- Where it begins in the transcription, counted from 0.
    "end" INTEGER NOT NULL,  -- Where it ends there.
    PRIMARY KEY (bell_id, survey_id, number, formula)
) STRICT, WITHOUT ROWID;
