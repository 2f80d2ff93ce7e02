-- What files of founders tell of a founder.
CREATE TABLE founder_told (
    id TEXT NOT NULL REFERENCES founder (id),  -- The founder.
    name TEXT NOT NULL,  -- The name used today.
    kind TEXT,  -- A person, a workshop, a family.
    active TEXT,  -- First and last year of work, EDTF.
    active_from TEXT,  -- First day it can mean; empty where that is open or unknown.
    active_until TEXT,  -- Last day it can mean; empty where that is open or unknown.
    born TEXT,  -- Born, EDTF.
    died TEXT,  -- Died, EDTF.
    sources TEXT NOT NULL CHECK (json_valid(sources)),  -- What all this rests on, a JSON list.
    remarks TEXT,  -- Anything else.
    source_path TEXT NOT NULL REFERENCES source (path),  -- The file it was read from.
    PRIMARY KEY (id)
) STRICT, WITHOUT ROWID;
