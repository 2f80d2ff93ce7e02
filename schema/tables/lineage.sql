-- Computed: how bells are bound to each other, from the events that name another bell, seen from both sides.
CREATE TABLE lineage (
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell.
    relation TEXT NOT NULL,  -- What it is to the other, a word of event_kind.
    other_bell_id TEXT NOT NULL,  -- The other bell, which may have no entry of its own.
    date TEXT,  -- When, EDTF.
    certainty TEXT,  -- How certain it is.
    source TEXT,  -- What says so.
    survey_id TEXT NOT NULL REFERENCES survey (id),  -- The newest survey that tells it.
    told_of TEXT NOT NULL CHECK (told_of IN ('this', 'other', 'both')),  -- Whether the events of this bell tell it, those of the other, or both.
    PRIMARY KEY (bell_id, relation, other_bell_id)
) STRICT, WITHOUT ROWID;
