-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- What the bell hangs on and what moves it.
CREATE TABLE fittings (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    headstock TEXT CHECK (headstock = 'straight-wood' OR headstock = 'straight-steel' OR headstock = 'straight-cast-iron' OR headstock = 'cranked-steel' OR headstock = 'cranked-cast-iron' OR headstock = 'cranked-wood' OR headstock = 'counterbalanced' OR headstock = 'full-circle-wood' OR headstock = 'full-circle-metal' OR headstock = 'fixed' OR headstock = 'other' OR headstock = 'unknown'),  -- Straight, cranked, counterbalanced; wood or steel.
    headstock_state TEXT CHECK (headstock_state = 'sound' OR headstock_state = 'worn' OR headstock_state = 'decayed' OR headstock_state = 'loose' OR headstock_state = 'cracked' OR headstock_state = 'broken' OR headstock_state = 'missing' OR headstock_state = 'not-seen'),  -- State of the headstock.
    bearings TEXT CHECK (bearings = 'plain' OR bearings = 'rolling' OR bearings = 'knife-edge' OR bearings = 'other' OR bearings = 'none' OR bearings = 'unknown'),  -- Plain or rolling.
    bearings_state TEXT CHECK (bearings_state = 'sound' OR bearings_state = 'worn' OR bearings_state = 'decayed' OR bearings_state = 'loose' OR bearings_state = 'cracked' OR bearings_state = 'broken' OR bearings_state = 'missing' OR bearings_state = 'not-seen'),  -- State of the bearings and gudgeons.
    drive TEXT CHECK (drive = 'rope-lever' OR drive = 'rope-wheel' OR drive = 'foot' OR drive = 'chain-motor' OR drive = 'motor' OR drive = 'linear-motor' OR drive = 'none' OR drive = 'other' OR drive = 'unknown'),  -- What swings the bell.
    drive_state TEXT CHECK (drive_state = 'sound' OR drive_state = 'worn' OR drive_state = 'decayed' OR drive_state = 'loose' OR drive_state = 'cracked' OR drive_state = 'broken' OR drive_state = 'missing' OR drive_state = 'not-seen'),  -- State of wheel, rope, chain or motor.
    isolator TEXT CHECK (isolator = 'yes' OR isolator = 'no' OR isolator = 'unknown'),  -- Can the drive be locked off at the bell?
    clock_hammer TEXT CHECK (clock_hammer = 'present' OR clock_hammer = 'missing' OR clock_hammer = 'never-had' OR clock_hammer = 'stored' OR clock_hammer = 'not-seen'),  -- Is there a clock hammer?
    hammer_mass_kg REAL CHECK (hammer_mass_kg BETWEEN 0.1 AND 500),  -- Mass of the hammer.
    hammer_clearance_mm REAL CHECK (hammer_clearance_mm BETWEEN 0 AND 300),  -- Gap between hammer at rest and bell.
    hammer_clear_of_swing TEXT CHECK (hammer_clear_of_swing = 'yes' OR hammer_clear_of_swing = 'no' OR hammer_clear_of_swing = 'unknown'),  -- Is the hammer drawn off when the bell swings?
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 2000),  -- Anything else on the fittings.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
