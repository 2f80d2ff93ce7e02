-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- The bell frame and how the tower carries it.
CREATE TABLE frame (
    survey_id TEXT NOT NULL REFERENCES survey (id),  -- The survey that tells it.
    material TEXT CHECK (material = 'oak' OR material = 'softwood' OR material = 'timber' OR material = 'iron' OR material = 'steel' OR material = 'concrete' OR material = 'mixed' OR material = 'other' OR material = 'none' OR material = 'unknown'),  -- What it is made of.
    built TEXT CHECK (length(built) BETWEEN 1 AND 200),  -- When and by whom, as far as known.
    places INTEGER CHECK (places BETWEEN 1 AND 200),  -- Places for bells in the frame.
    bearings_on TEXT CHECK (length(bearings_on) BETWEEN 1 AND 300),  -- What the frame rests on: beams, corbels, walls, dampers.
    moves_when_ringing TEXT CHECK (moves_when_ringing = 'yes' OR moves_when_ringing = 'no' OR moves_when_ringing = 'unknown'),  -- Is movement seen or felt?
    movement_mm REAL CHECK (movement_mm BETWEEN 0 AND 200),  -- Movement of the frame head, measured.
    loose_joints TEXT CHECK (loose_joints = 'yes' OR loose_joints = 'no' OR loose_joints = 'unknown'),  -- Loose bolts, wedges or joints?
    decay TEXT CHECK (decay = 'none' OR decay = 'slight' OR decay = 'marked' OR decay = 'grave' OR decay = 'unknown'),  -- Rot, beetle, rust.
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 4000),  -- Anything else on the frame.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id)
) STRICT, WITHOUT ROWID;
