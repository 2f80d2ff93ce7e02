-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- What the bell is, and where it comes from.
CREATE TABLE bell_seen (
    survey_id TEXT NOT NULL REFERENCES survey (id),  -- The survey that tells it.
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell it tells of.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the form, counted from 1.
    name TEXT CHECK (length(name) BETWEEN 1 AND 200),  -- Name by which the bell is known.
    position INTEGER CHECK (position BETWEEN 1 AND 200),  -- Place in the ring, 1 is the highest note.
    status TEXT CHECK (status = 'hanging' OR status = 'standing' OR status = 'in-workshop' OR status = 'on-display' OR status = 'moved' OR status = 'requisitioned' OR status = 'lost' OR status = 'stolen' OR status = 'destroyed' OR status = 'recast' OR status = 'unknown'),  -- What has become of it.
    material TEXT CHECK (material = 'bronze' OR material = 'brass' OR material = 'other-bronze' OR material = 'cast-steel' OR material = 'cast-iron' OR material = 'sheet-iron' OR material = 'zinc-alloy' OR material = 'aluminium' OR material = 'glass' OR material = 'porcelain' OR material = 'other' OR material = 'unknown'),  -- What it is cast from.
    founder TEXT CHECK (length(founder) BETWEEN 1 AND 200),  -- Founder or workshop, as best known.
    founder_id TEXT CHECK (founder_id <> '' AND founder_id NOT GLOB '*[^a-z0-9-]*' AND founder_id NOT GLOB '-*' AND founder_id NOT GLOB '*-' AND founder_id NOT GLOB '*--*'),  -- The founder's permanent id, where one is in use.
    founder_certainty TEXT CHECK (founder_certainty = 'certain' OR founder_certainty = 'probable' OR founder_certainty = 'possible' OR founder_certainty = 'doubtful' OR founder_certainty = 'unknown'),  -- How certain the founder is.
    cast_text TEXT CHECK (length(cast_text) BETWEEN 1 AND 500),  -- The date as it stands on the bell, letter for letter.
    cast_calendar TEXT CHECK (cast_calendar = 'julian' OR cast_calendar = 'gregorian' OR cast_calendar = 'republican' OR cast_calendar = 'creation' OR cast_calendar = 'unknown'),  -- Calendar of the date on the bell.
    cast_year_begins TEXT CHECK (cast_year_begins = 'january' OR cast_year_begins = 'march' OR cast_year_begins = 'annunciation' OR cast_year_begins = 'annunciation-before' OR cast_year_begins = 'easter' OR cast_year_begins = 'september' OR cast_year_begins = 'christmas' OR cast_year_begins = 'unknown'),  -- Day on which the year on the bell began, where known.
    cast_date TEXT CHECK (length(cast_date) BETWEEN 1 AND 200),  -- The date of casting as EDTF: 1643, 164X, 1643?, "[1480,1483]".
    dating_basis TEXT CHECK (dating_basis = 'inscribed' OR dating_basis = 'chronogram' OR dating_basis = 'record' OR dating_basis = 'named-person' OR dating_basis = 'lettering' OR dating_basis = 'same-mould' OR dating_basis = 'analysis' OR dating_basis = 'literature' OR dating_basis = 'tradition' OR dating_basis = 'other'),  -- What the date rests on.
    protected TEXT CHECK (protected = 'yes' OR protected = 'no' OR protected = 'unknown'),  -- Is the bell itself protected?
    protected_source TEXT CHECK (length(protected_source) BETWEEN 1 AND 300),  -- The list or decision that says so.
    wartime_class TEXT CHECK (wartime_class = 'a' OR wartime_class = 'b' OR wartime_class = 'c' OR wartime_class = 'd' OR wartime_class = 'exempt' OR wartime_class = 'unknown'),  -- Class given in a requisition.
    wartime_class_source TEXT CHECK (length(wartime_class_source) BETWEEN 1 AND 300),  -- Document or mark that shows the class.
    title TEXT CHECK (length(title) BETWEEN 1 AND 300),  -- Dedication, patron, office (hour bell, death bell).
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 4000),  -- Anything else that identifies the bell.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
