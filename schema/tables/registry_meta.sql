-- What this file is: the fingerprint of its tables and the versions of what was computed.
CREATE TABLE registry_meta (
    key TEXT NOT NULL,  -- Name of the statement.
    value TEXT NOT NULL,  -- What it says.
    PRIMARY KEY (key)
) STRICT, WITHOUT ROWID;
