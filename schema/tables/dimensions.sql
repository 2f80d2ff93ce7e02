-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- Sizes, as measured.
CREATE TABLE dimensions (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    mouth_diameter_mm REAL CHECK (mouth_diameter_mm BETWEEN 50 AND 6700),  -- Outer diameter at the lip; mean of the readings.
    mouth_diameter_readings_mm TEXT CHECK (mouth_diameter_readings_mm IS NULL OR json_valid(mouth_diameter_readings_mm) AND json_type(mouth_diameter_readings_mm) = 'array'),  -- Each reading taken, in different directions.
    height_mm REAL CHECK (height_mm BETWEEN 40 AND 6500),  -- Upright height, lip to shoulder, without the crown.
    slant_height_mm REAL CHECK (slant_height_mm BETWEEN 40 AND 6500),  -- Lip to shoulder edge along the outside, straight.
    shoulder_diameter_mm REAL CHECK (shoulder_diameter_mm BETWEEN 20 AND 4000),  -- Outer diameter at the shoulder.
    soundbow_thickness_mm REAL CHECK (soundbow_thickness_mm BETWEEN 3 AND 650),  -- Greatest thickness of the sound-bow, unworn.
    waist_thickness_mm REAL CHECK (waist_thickness_mm BETWEEN 1 AND 400),  -- Thickness at the waist, half way up.
    head_thickness_mm REAL CHECK (head_thickness_mm BETWEEN 1 AND 500),  -- Thickness of the head, beside the crown.
    mass_kg REAL CHECK (mass_kg BETWEEN 1 AND 250000),  -- The mass, where it is known.
    mass_basis TEXT CHECK (mass_basis = 'weighed' OR mass_basis = 'founder-record' OR mass_basis = 'inscribed' OR mass_basis = 'calculated' OR mass_basis = 'estimated' OR mass_basis = 'unknown'),  -- How the mass was obtained.
    mass_includes TEXT CHECK (mass_includes IS NULL OR json_valid(mass_includes) AND json_type(mass_includes) = 'array'),  -- What was on the scale or in the statement besides the bell.
    mass_tolerance_kg REAL CHECK (mass_tolerance_kg BETWEEN 0.01 AND 5000),  -- Largest error of the weighing.
    profile_class TEXT CHECK (profile_class = 'ultra-light' OR profile_class = 'light' OR profile_class = 'medium-light' OR profile_class = 'medium' OR profile_class = 'medium-heavy' OR profile_class = 'heavy' OR profile_class = 'ultra-heavy' OR profile_class = 'carillon' OR profile_class = 'unknown'),  -- Weight class for its note, if one was stated.
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 2000),  -- Where and how the sizes were taken, ovality.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
