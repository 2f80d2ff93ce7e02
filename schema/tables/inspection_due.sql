-- When to look at a bell again, by the rules of judgement, never an observation: computed again at each load.
CREATE TABLE inspection_due (
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell.
    kind TEXT NOT NULL CHECK (kind IN ('expert', 'soon', 'technical', 'by-eye')),  -- Who looks, and how soon.
    due TEXT,  -- The day by which; empty where it is due at once.
    why TEXT NOT NULL,  -- What makes it due then.
    source TEXT NOT NULL,  -- What the interval rests on.
    PRIMARY KEY (bell_id, kind)
) STRICT, WITHOUT ROWID;
