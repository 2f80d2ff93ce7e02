-- Bells: the permanent id, which a bell keeps wherever it goes. What is known of one stands in bell_current.
CREATE TABLE bell (
    id TEXT NOT NULL CHECK (id <> '' AND id NOT GLOB '*[^a-z0-9-]*' AND id NOT GLOB '-*' AND id NOT GLOB '*-' AND id NOT GLOB '*--*'),  -- Permanent id of the bell.
    PRIMARY KEY (id)
) STRICT, WITHOUT ROWID;
