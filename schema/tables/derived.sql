-- Computed values, never observations: thrown away and computed again at each load.
CREATE TABLE derived (
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Running number among the computed values of this bell.
    survey_id TEXT REFERENCES survey (id),  -- The survey whose observations went in; empty where several did.
    subject TEXT NOT NULL,  -- What it is about: bell, strike-point:1, partial:tierce, cast-text, inscription:1.
    quantity TEXT NOT NULL,  -- What is computed, with its unit.
    rank INTEGER NOT NULL CHECK (rank > 0),  -- 1 is the method to prefer where several give the quantity.
    value REAL,  -- Best estimate; empty where only bounds or no value can be given.
    unit TEXT NOT NULL,  -- Unit of value, low and high.
    low REAL,  -- Lower end of the interval.
    high REAL,  -- Upper end of the interval.
    level REAL NOT NULL CHECK (level BETWEEN 0 AND 1),  -- Probability that the interval holds the true value; 0 where none is claimed.
    method TEXT NOT NULL,  -- Name of the method.
    version INTEGER NOT NULL,  -- Version of the method.
    inputs TEXT NOT NULL CHECK (json_valid(inputs) AND json_type(inputs) = 'object'),  -- Each input by its name with unit, JSON.
    source TEXT NOT NULL,  -- Where the method is published.
    note TEXT NOT NULL,  -- A caveat for the reader.
    PRIMARY KEY (bell_id, ordinal),
    CHECK (low IS NULL OR high IS NULL OR low <= high)
) STRICT, WITHOUT ROWID;
