-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- The clapper and how it strikes.
CREATE TABLE clapper (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    presence TEXT NOT NULL CHECK (presence = 'present' OR presence = 'missing' OR presence = 'never-had' OR presence = 'stored' OR presence = 'not-seen'),  -- Is there one?
    kind TEXT CHECK (kind = 'flying' OR kind = 'falling' OR kind = 'rotating' OR kind = 'pulled' OR kind = 'other' OR kind = 'unknown'),  -- How it meets the bell.
    material TEXT CHECK (material = 'wrought-iron' OR material = 'mild-steel' OR material = 'hard-steel' OR material = 'cast-iron' OR material = 'ductile-iron' OR material = 'bronze' OR material = 'wood' OR material = 'other' OR material = 'unknown'),  -- What the ball is made of.
    mass_kg REAL CHECK (mass_kg BETWEEN 0.05 AND 4000),  -- Mass of the clapper.
    mass_basis TEXT CHECK (mass_basis = 'weighed' OR mass_basis = 'founder-record' OR mass_basis = 'inscribed' OR mass_basis = 'calculated' OR mass_basis = 'estimated' OR mass_basis = 'unknown'),  -- How that mass was obtained.
    length_mm REAL CHECK (length_mm BETWEEN 30 AND 5000),  -- Pivot to centre of the ball.
    flight_length_mm REAL CHECK (flight_length_mm BETWEEN 0 AND 2000),  -- Length of the flight below the ball.
    ball_diameter_mm REAL CHECK (ball_diameter_mm BETWEEN 10 AND 900),  -- Greatest diameter of the ball.
    flat_width_mm REAL CHECK (flat_width_mm BETWEEN 0 AND 300),  -- Width of the flat worn on the ball.
    pivot TEXT CHECK (pivot = 'leather' OR pivot = 'plain-bush' OR pivot = 'polymer-bush' OR pivot = 'rolling' OR pivot = 'hook' OR pivot = 'other' OR pivot = 'unknown'),  -- What it turns on.
    play_vertical_mm REAL CHECK (play_vertical_mm BETWEEN 0 AND 100),  -- Vertical play at the pivot.
    play_sideways_mm REAL CHECK (play_sideways_mm BETWEEN 0 AND 500),  -- Sideways play at the ball.
    strike_height_mm REAL CHECK (strike_height_mm BETWEEN 0 AND 800),  -- Height of the blow above the lip.
    shaft_touches TEXT CHECK (shaft_touches = 'yes' OR shaft_touches = 'no' OR shaft_touches = 'unknown'),  -- Does the shaft touch the lip?
    hardness_hb REAL CHECK (hardness_hb BETWEEN 20 AND 700),  -- Brinell hardness of the ball.
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 2000),  -- Anything else on the clapper.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
