-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- What the bell hangs on and what moves it.
CREATE TABLE fittings (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    headstock TEXT CHECK (headstock IN ('straight-wood', 'straight-steel', 'straight-cast-iron', 'cranked-steel', 'cranked-cast-iron', 'cranked-wood', 'counterbalanced', 'full-circle-wood', 'full-circle-metal', 'fixed', 'other', 'unknown')),  -- Straight, cranked, counterbalanced; wood or steel.
    headstock_state TEXT CHECK (headstock_state IN ('sound', 'worn', 'decayed', 'loose', 'cracked', 'broken', 'missing', 'not-seen')),  -- State of the headstock.
    bearings TEXT CHECK (bearings IN ('plain', 'rolling', 'knife-edge', 'other', 'none', 'unknown')),  -- Plain or rolling.
    bearings_state TEXT CHECK (bearings_state IN ('sound', 'worn', 'decayed', 'loose', 'cracked', 'broken', 'missing', 'not-seen')),  -- State of the bearings and gudgeons.
    drive TEXT CHECK (drive IN ('rope-lever', 'rope-wheel', 'foot', 'chain-motor', 'motor', 'linear-motor', 'none', 'other', 'unknown')),  -- What swings the bell.
    drive_state TEXT CHECK (drive_state IN ('sound', 'worn', 'decayed', 'loose', 'cracked', 'broken', 'missing', 'not-seen')),  -- State of wheel, rope, chain or motor.
    isolator TEXT CHECK (isolator IN ('yes', 'no', 'unknown')),  -- Can the drive be locked off at the bell?
    clock_hammer TEXT CHECK (clock_hammer IN ('present', 'missing', 'never-had', 'stored', 'not-seen')),  -- Is there a clock hammer?
    hammer_mass_kg REAL CHECK (hammer_mass_kg BETWEEN 0.1 AND 500),  -- Mass of the hammer.
    hammer_clearance_mm REAL CHECK (hammer_clearance_mm BETWEEN 0 AND 300),  -- Gap between hammer at rest and bell.
    hammer_clear_of_swing TEXT CHECK (hammer_clear_of_swing IN ('yes', 'no', 'unknown')),  -- Is the hammer drawn off when the bell swings?
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 2000),  -- Anything else on the fittings.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
