-- What needs a look, how grave it is and in which words; filled from schema/rules/attention.yaml.
CREATE TABLE attention_rule (
    kind TEXT NOT NULL,  -- Name of the rule.
    rank INTEGER NOT NULL UNIQUE CHECK (rank > 0),  -- Place in the file, gravest first.
    severity INTEGER NOT NULL CHECK (severity BETWEEN 1 AND 3),  -- 3 at once, 2 soon, 1 when there is time.
    threshold REAL,  -- The limit, where the rule has one.
    text TEXT NOT NULL,  -- What is said; each %s takes a value.
    source TEXT NOT NULL,  -- What the rule rests on.
    PRIMARY KEY (kind)
) STRICT, WITHOUT ROWID;
