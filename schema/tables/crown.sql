-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- The crown: canons, argent and the staple inside.
CREATE TABLE crown (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    kind TEXT CHECK (kind IN ('canons', 'canons-removed', 'flat-top', 'button', 'single-loop', 'pierced-head', 'plate', 'other', 'unknown')),  -- Canons, flat top, button.
    loops INTEGER CHECK (loops BETWEEN 0 AND 12),  -- Canons, counted.
    broken_loops INTEGER CHECK (broken_loops BETWEEN 0 AND 12),  -- Canons broken or cut away.
    argent TEXT CHECK (argent IN ('sound', 'worn', 'decayed', 'loose', 'cracked', 'broken', 'missing', 'not-seen')),  -- State of the argent, the central loop.
    staple TEXT CHECK (staple IN ('cast-in', 'cast-bronze', 'removed', 'remains', 'independent', 'none', 'unknown')),  -- What holds the clapper.
    staple_rust TEXT CHECK (staple_rust IN ('none', 'surface', 'scaling', 'swelling', 'unknown')),  -- Rust of a cast-in staple: it bursts crowns.
    straps TEXT CHECK (straps IN ('sound', 'worn', 'decayed', 'loose', 'cracked', 'broken', 'missing', 'not-seen')),  -- State of the straps and bolts that hold the bell.
    bolts_loose TEXT CHECK (bolts_loose IN ('yes', 'no', 'unknown')),  -- Any nut or wedge loose?
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 2000),  -- Anything else on the crown.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
