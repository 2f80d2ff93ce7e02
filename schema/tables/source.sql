-- Every file that was loaded, kept whole, so that the registry alone can give it back byte for byte.
CREATE TABLE source (
    path TEXT NOT NULL CHECK (path <> ''),  -- Where the file was, seen from the folder of the registry.
    kind TEXT NOT NULL CHECK (kind IN ('form', 'region', 'founders')),  -- A survey form, a file of region borders, or one of founders.
    sha256 TEXT NOT NULL CHECK (length(sha256) = 64 AND sha256 NOT GLOB '*[^0-9a-f]*'),  -- SHA-256 of the bytes, hexadecimal.
    size_bytes INTEGER NOT NULL CHECK (size_bytes = length(text)),  -- Length of the file.
    text BLOB NOT NULL,  -- The bytes of the file, unchanged.
    loaded_at TEXT NOT NULL,  -- When this text was loaded, UTC, ISO 8601.
    PRIMARY KEY (path)
) STRICT;
