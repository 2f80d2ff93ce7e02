-- Which founder a bell is given to: by its newest survey, or proposed because the name there is a spelling that a founder owns.
CREATE TABLE attribution (
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell.
    founder_id TEXT NOT NULL REFERENCES founder (id),  -- The founder.
    basis TEXT NOT NULL CHECK (basis IN ('stated', 'proposed')),  -- stated: the newest survey that tells gives the id; proposed: computed from the name.
    certainty TEXT,  -- stated: as the surveyor has it; proposed: computed, never more certain than the surveyor.
    spelling TEXT,  -- The founder as the survey writes it.
    reason TEXT NOT NULL,  -- What the attribution rests on.
    PRIMARY KEY (bell_id, founder_id)
) STRICT, WITHOUT ROWID;
