-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- Something that can hurt whoever goes up next.
CREATE TABLE hazard (
    survey_id TEXT NOT NULL REFERENCES survey (id),  -- The survey that tells it.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- Place in the form, counted from 1.
    kind TEXT NOT NULL CHECK (kind = 'raised-bell' OR kind = 'electric-drive' OR kind = 'moving-bell' OR kind = 'fall' OR kind = 'stairs' OR kind = 'ladder' OR kind = 'floor' OR kind = 'structure' OR kind = 'loose-part' OR kind = 'droppings' OR kind = 'asbestos' OR kind = 'lead' OR kind = 'preservative' OR kind = 'noise' OR kind = 'radio' OR kind = 'electricity' OR kind = 'lightning' OR kind = 'animals' OR kind = 'fire' OR kind = 'other'),  -- What sort of hazard.
    "where" TEXT CHECK (length("where") BETWEEN 1 AND 300),  -- Where it is met.
    remark TEXT CHECK (length(remark) BETWEEN 1 AND 1000),  -- How grave, and what was done or should be.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, ordinal)
) STRICT, WITHOUT ROWID;
