-- Computed: where a bell was and between which days, as far as its surveys tell; thrown away and computed again.
CREATE TABLE bell_stay (
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the order of its life, counted from 1.
    state TEXT NOT NULL,  -- there; unknown where nobody tells the place; else what took it away.
    tower_id TEXT,  -- Where it was there: the tower, which may have no survey of its own.
    from_earliest TEXT,  -- First day on which the stay can have begun; empty where nobody knows.
    from_latest TEXT NOT NULL,  -- Last day on which it can have begun.
    until_earliest TEXT,  -- First day on which it can have ended; empty where no end is told.
    until_latest TEXT,  -- Last day on which it can have ended; empty where no end is told.
    survey_id TEXT NOT NULL REFERENCES survey (id),  -- The survey that tells of it first.
    presumed INTEGER NOT NULL CHECK (presumed IN (0, 1)),  -- 1 where it follows only from what came after.
    PRIMARY KEY (bell_id, ordinal)
) STRICT, WITHOUT ROWID;
