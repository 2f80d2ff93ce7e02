-- One row per bell: of each fact the newest that any survey tells, beside what is computed from it.
CREATE TABLE bell_current (
    id TEXT NOT NULL REFERENCES bell (id),  -- Permanent id of the bell.
    name TEXT,  -- Name by which it is known.
    title TEXT,  -- Dedication or office.
    tower_id TEXT NOT NULL REFERENCES tower (id),  -- Tower of the newest survey that has it.
    tower_name TEXT NOT NULL,  -- Name of the tower.
    place TEXT NOT NULL,  -- Town or village.
    region TEXT,  -- Region of the tower.
    country TEXT,  -- Country of the tower, ISO 3166-1.
    latitude_deg REAL,  -- Latitude of the tower, WGS 84.
    longitude_deg REAL,  -- Longitude of the tower, WGS 84.
    position INTEGER,  -- Place in the ring, 1 is the highest note.
    status TEXT,  -- What has become of it.
    material TEXT,  -- What it is cast from.
    founder TEXT,  -- Founder as best known.
    founder_id TEXT REFERENCES founder (id),  -- Permanent id of the founder.
    founder_certainty TEXT,  -- How certain the founder is.
    cast_text TEXT,  -- Date as it stands on the bell.
    cast_date TEXT,  -- Date of casting, EDTF.
    cast_earliest_year INTEGER,  -- First year it can mean; empty where open, unknown or undated.
    cast_latest_year INTEGER,  -- Last year it can mean; empty where open, unknown or undated.
    dating_basis TEXT,  -- What the date rests on.
    protected TEXT,  -- Is the bell itself protected?
    protection TEXT,  -- Protection of its tower.
    wartime_class TEXT,  -- Class given in a requisition.
    mouth_diameter_mm REAL,  -- Observed diameter at the lip.
    height_mm REAL,  -- Observed height without the crown.
    soundbow_thickness_mm REAL,  -- Observed thickness of the sound-bow, unworn.
    profile_class TEXT,  -- Weight class as stated.
    mass_kg REAL,  -- Mass as stated or weighed.
    mass_basis TEXT,  -- How that mass was obtained.
    mass_survey_id TEXT REFERENCES survey (id),  -- The survey that mass comes from.
    mass_estimate_kg REAL,  -- Mass computed from the sizes.
    mass_estimate_low_kg REAL,  -- Lower end of its interval.
    mass_estimate_high_kg REAL,  -- Upper end of its interval.
    mass_estimate_method TEXT,  -- Method of the estimate.
    mass_agrees TEXT CHECK (mass_agrees IN ('yes', 'no')),  -- Does the stated mass lie in the interval of the estimate?
    strike_hz REAL,  -- Strike note: measured, or that of the note written down.
    strike_basis TEXT CHECK (strike_basis IN ('measured', 'note')),  -- Whether it was measured or follows from the note.
    strike_estimate_hz REAL,  -- Strike note computed from the sizes.
    strike_estimate_low_hz REAL,  -- Lower end of its interval.
    strike_estimate_high_hz REAL,  -- Upper end of its interval.
    strike_estimate_method TEXT,  -- Method of the estimate.
    note TEXT,  -- Note as written.
    note_name TEXT,  -- Nearest note in scientific pitch, a' = 440 Hz, of the note written or the strike measured.
    crack_state TEXT CHECK (crack_state IN ('none', 'suspected', 'confirmed')),  -- Worst in the newest survey that tells of cracks.
    crack_through INTEGER CHECK (crack_through IN (0, 1)),  -- 1 where one of these cracks goes through the wall.
    crack_survey_id TEXT REFERENCES survey (id),  -- The survey that tells.
    soundbow_loss_percent REAL,  -- Worst computed loss at a strike point, of the newest survey that tells.
    soundbow_survey_id TEXT REFERENCES survey (id),  -- The survey that loss comes from.
    condition INTEGER CHECK (condition BETWEEN 0 AND 3),  -- Worst of the surveyors' newest grades of bell, crown and clapper; empty is not assessed.
    urgency INTEGER CHECK (urgency BETWEEN 0 AND 3),  -- Worst of their newest grades of urgency.
    grade INTEGER CHECK (grade BETWEEN 0 AND 3),  -- Computed: worst condition of the parts that safety hangs on, by the rules; empty cannot be told, which is not good.
    grade_at_least INTEGER CHECK (grade_at_least BETWEEN 0 AND 3),  -- Computed: the condition is this or graver; empty for a bell that is gone.
    urgency_at_least INTEGER CHECK (urgency_at_least BETWEEN 0 AND 3),  -- Computed: something is as urgent as this, or more.
    ringing TEXT CHECK (ringing IN ('normal', 'reduced', 'stop', 'cannot-say')),  -- Computed advice on ringing; cannot-say is no leave to ring.
    surveys INTEGER NOT NULL CHECK (surveys > 0),  -- Number of surveys that have the bell.
    disagreements INTEGER NOT NULL CHECK (disagreements >= 0),  -- Number of facts on which surveys disagree.
    last_survey_id TEXT NOT NULL REFERENCES survey (id),  -- The newest survey that has it.
    last_survey_date TEXT NOT NULL,  -- Day whose state that survey tells.
    last_visit_date TEXT,  -- Day of the newest visit that has it; empty where only documents do.
    PRIMARY KEY (id)
) STRICT, WITHOUT ROWID;
