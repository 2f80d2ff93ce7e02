-- Founders that carry a permanent id, with the name that the newest survey gives them.
CREATE TABLE founder (
    id TEXT NOT NULL CHECK (id <> '' AND id NOT GLOB '*[^a-z0-9-]*' AND id NOT GLOB '-*' AND id NOT GLOB '*-' AND id NOT GLOB '*--*'),  -- Permanent id of the founder.
    name TEXT,  -- Name as the newest survey writes it.
    PRIMARY KEY (id)
) STRICT, WITHOUT ROWID;
