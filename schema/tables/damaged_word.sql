-- Words of which letters are lost, for the search, never observations: written again at each load.
CREATE TABLE damaged_word (
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell.
    pattern TEXT NOT NULL,  -- What stands, in the spelling by which it is compared, lost letters as *.
    standing INTEGER NOT NULL CHECK (standing > 0),  -- How many letters stand.
    least INTEGER NOT NULL CHECK (least >= 0),  -- Letters lost, at least.
    most INTEGER,  -- Letters lost, at most; empty where nobody knows.
    PRIMARY KEY (bell_id, pattern, standing, least)
) STRICT, WITHOUT ROWID;
