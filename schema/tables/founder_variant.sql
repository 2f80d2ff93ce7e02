-- Every spelling that a founder owns, the name used today first.
CREATE TABLE founder_variant (
    founder_id TEXT NOT NULL REFERENCES founder_told (id),  -- The founder.
    ordinal INTEGER NOT NULL CHECK (ordinal >= 0),  -- 0 is the name used today, then as in the file.
    spelling TEXT NOT NULL,  -- The name, letter for letter.
    folded TEXT NOT NULL,  -- The spelling by which it is compared: no capitals, accents, punctuation.
    valid TEXT,  -- When it was written so, EDTF.
    place TEXT,  -- Where, if that tells it from another founder's.
    language TEXT,  -- Its language, BCP 47.
    source TEXT,  -- Where it is written so.
    PRIMARY KEY (founder_id, ordinal)
) STRICT, WITHOUT ROWID;
