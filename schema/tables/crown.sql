-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- The crown: canons, argent and the staple inside.
CREATE TABLE crown (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    kind TEXT CHECK (kind = 'canons' OR kind = 'canons-removed' OR kind = 'flat-top' OR kind = 'button' OR kind = 'single-loop' OR kind = 'pierced-head' OR kind = 'plate' OR kind = 'other' OR kind = 'unknown'),  -- Canons, flat top, button.
    loops INTEGER CHECK (loops BETWEEN 0 AND 12),  -- Canons, counted.
    broken_loops INTEGER CHECK (broken_loops BETWEEN 0 AND 12),  -- Canons broken or cut away.
    argent TEXT CHECK (argent = 'sound' OR argent = 'worn' OR argent = 'decayed' OR argent = 'loose' OR argent = 'cracked' OR argent = 'broken' OR argent = 'missing' OR argent = 'not-seen'),  -- State of the argent, the central loop.
    staple TEXT CHECK (staple = 'cast-in' OR staple = 'cast-bronze' OR staple = 'removed' OR staple = 'remains' OR staple = 'independent' OR staple = 'none' OR staple = 'unknown'),  -- What holds the clapper.
    staple_rust TEXT CHECK (staple_rust = 'none' OR staple_rust = 'surface' OR staple_rust = 'scaling' OR staple_rust = 'swelling' OR staple_rust = 'unknown'),  -- Rust of a cast-in staple: it bursts crowns.
    straps TEXT CHECK (straps = 'sound' OR straps = 'worn' OR straps = 'decayed' OR straps = 'loose' OR straps = 'cracked' OR straps = 'broken' OR straps = 'missing' OR straps = 'not-seen'),  -- State of the straps and bolts that hold the bell.
    bolts_loose TEXT CHECK (bolts_loose = 'yes' OR bolts_loose = 'no' OR bolts_loose = 'unknown'),  -- Any nut or wedge loose?
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 2000),  -- Anything else on the crown.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
