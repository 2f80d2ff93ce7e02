-- Founders that carry a permanent id, with the name that their own file gives them, else the newest survey.
CREATE TABLE founder (
    id TEXT NOT NULL CHECK (id <> '' AND id NOT GLOB '*[^a-z0-9-]*' AND id NOT GLOB '-*' AND id NOT GLOB '*-' AND id NOT GLOB '*--*'),  -- Permanent id of the founder.
    name TEXT,  -- Name as its file, else the newest survey, writes it.
    PRIMARY KEY (id)
) STRICT, WITHOUT ROWID;
