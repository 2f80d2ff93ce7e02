-- Towers: the permanent id, which is the citable address. What is known of one stands in tower_current.
CREATE TABLE tower (
    id TEXT NOT NULL CHECK (id <> '' AND id NOT GLOB '*[^a-z0-9-]*' AND id NOT GLOB '-*' AND id NOT GLOB '*-' AND id NOT GLOB '*--*'),  -- Permanent id of the tower.
    PRIMARY KEY (id)
) STRICT, WITHOUT ROWID;
