-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- What the bell is, and where it comes from.
CREATE TABLE bell_seen (
    survey_id TEXT NOT NULL REFERENCES survey (id),  -- The survey that tells it.
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell it tells of.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the form, counted from 1.
    name TEXT CHECK (length(name) BETWEEN 1 AND 200),  -- Name by which the bell is known.
    position INTEGER CHECK (position BETWEEN 1 AND 200),  -- Place in the ring, 1 is the highest note.
    status TEXT CHECK (status IN ('hanging', 'standing', 'in-workshop', 'on-display', 'moved', 'requisitioned', 'lost', 'stolen', 'destroyed', 'recast', 'unknown')),  -- What has become of it.
    material TEXT CHECK (material IN ('bronze', 'brass', 'other-bronze', 'cast-steel', 'cast-iron', 'sheet-iron', 'zinc-alloy', 'aluminium', 'glass', 'porcelain', 'other', 'unknown')),  -- What it is cast from.
    founder TEXT CHECK (length(founder) BETWEEN 1 AND 200),  -- Founder or workshop, as best known.
    founder_id TEXT CHECK (founder_id <> '' AND founder_id NOT GLOB '*[^a-z0-9-]*' AND founder_id NOT GLOB '-*' AND founder_id NOT GLOB '*-' AND founder_id NOT GLOB '*--*'),  -- The founder's permanent id, where one is in use.
    founder_certainty TEXT CHECK (founder_certainty IN ('certain', 'probable', 'possible', 'doubtful', 'unknown')),  -- How certain the founder is.
    cast_text TEXT CHECK (length(cast_text) BETWEEN 1 AND 500),  -- The date as it stands on the bell, letter for letter.
    cast_date TEXT CHECK (length(cast_date) BETWEEN 1 AND 200),  -- The date of casting as EDTF: 1643, 164X, 1643?, "[1480,1483]".
    dating_basis TEXT CHECK (dating_basis IN ('inscribed', 'chronogram', 'record', 'named-person', 'lettering', 'same-mould', 'analysis', 'literature', 'tradition', 'other')),  -- What the date rests on.
    protected TEXT CHECK (protected IN ('yes', 'no', 'unknown')),  -- Is the bell itself protected?
    protected_source TEXT CHECK (length(protected_source) BETWEEN 1 AND 300),  -- The list or decision that says so.
    wartime_class TEXT CHECK (wartime_class IN ('a', 'b', 'c', 'd', 'exempt', 'unknown')),  -- Class given in a requisition.
    wartime_class_source TEXT CHECK (length(wartime_class_source) BETWEEN 1 AND 300),  -- Document or mark that shows the class.
    title TEXT CHECK (length(title) BETWEEN 1 AND 300),  -- Dedication, patron, office (hour bell, death bell).
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 4000),  -- Anything else that identifies the bell.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
