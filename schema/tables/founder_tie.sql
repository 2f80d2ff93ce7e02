-- What binds founders to each other, as their files tell.
CREATE TABLE founder_tie (
    founder_id TEXT NOT NULL REFERENCES founder_told (id),  -- The founder.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the file, counted from 1.
    kind TEXT NOT NULL,  -- What the founder is to the other.
    other_id TEXT NOT NULL,  -- Id of the other founder, which may have no entry.
    date TEXT,  -- When, EDTF.
    certainty TEXT,  -- How certain it is.
    source TEXT,  -- What says so.
    PRIMARY KEY (founder_id, ordinal)
) STRICT, WITHOUT ROWID;
