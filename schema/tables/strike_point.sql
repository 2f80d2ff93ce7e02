-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- A place where clapper or hammer strikes or struck. Most bells have two or more.
CREATE TABLE strike_point (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    number INTEGER NOT NULL CHECK (number BETWEEN 1 AND 40),  -- Running number on this bell, the same at every visit.
    bearing_deg REAL CHECK (bearing_deg BETWEEN 0 AND 360),  -- Clockwise seen from above, from the mark named in the remarks.
    struck_by TEXT CHECK (struck_by = 'clapper' OR struck_by = 'hammer' OR struck_by = 'both' OR struck_by = 'unknown'),  -- Clapper or hammer.
    use TEXT CHECK (use = 'in-use' OR use = 'old' OR use = 'unknown'),  -- In use, or from before the bell was turned.
    pit_depth_mm REAL CHECK (pit_depth_mm BETWEEN 0 AND 150),  -- Depth of the pit worn in.
    pit_length_mm REAL CHECK (pit_length_mm BETWEEN 0 AND 900),  -- Along the rim.
    pit_width_mm REAL CHECK (pit_width_mm BETWEEN 0 AND 600),  -- Up and down the bell.
    thickness_at_pit_mm REAL CHECK (thickness_at_pit_mm BETWEEN 1 AND 650),  -- Wall left at the deepest point.
    thickness_beside_mm REAL CHECK (thickness_beside_mm BETWEEN 3 AND 650),  -- Unworn wall beside the pit, same height.
    turned TEXT CHECK (length(turned) BETWEEN 1 AND 200),  -- When the bell was turned away from this point.
    turned_by_deg REAL CHECK (turned_by_deg BETWEEN 0 AND 360),  -- By how much it was turned.
    built_up TEXT CHECK (built_up = 'yes' OR built_up = 'no' OR built_up = 'unknown'),  -- Built up by welding?
    burr TEXT CHECK (burr = 'yes' OR burr = 'no' OR burr = 'unknown'),  -- A burr or chipped lip below it?
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 1000),  -- Anything else on this point.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id, number),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
