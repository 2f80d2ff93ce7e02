-- Years in which a bell can have been cast: one row, or one for each member of a set such as [1480,1483].
CREATE TABLE cast_span (
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the set, counted from 1.
    earliest_year INTEGER,  -- First year; empty where it is open or unknown.
    latest_year INTEGER,  -- Last year; empty where it is open or unknown.
    PRIMARY KEY (bell_id, ordinal)
) STRICT, WITHOUT ROWID;
