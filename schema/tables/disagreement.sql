-- Facts of a bell on which surveys disagree: the newest value, and the newest other one that contradicts it.
CREATE TABLE disagreement (
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell.
    section TEXT NOT NULL,  -- Table of the fact.
    field TEXT NOT NULL,  -- Column of the fact.
    value ANY NOT NULL,  -- The newest value.
    survey_id TEXT NOT NULL REFERENCES survey (id),  -- The survey it comes from.
    other_value ANY NOT NULL,  -- The value that contradicts it.
    other_survey_id TEXT NOT NULL REFERENCES survey (id),  -- The survey that one comes from.
    PRIMARY KEY (bell_id, section, field)
) STRICT, WITHOUT ROWID;
