-- Inscriptions made comparable for the search, never observations: written again at each load. Show the transcription instead.
CREATE TABLE inscription_normalised (
    bell_id TEXT NOT NULL REFERENCES bell (id),  -- The bell.
    survey_id TEXT NOT NULL,  -- The survey that tells the inscription.
    number INTEGER NOT NULL,  -- Number of the inscription on its bell.
    backwards INTEGER NOT NULL CHECK (backwards IN (0, 1)),  -- 1: read from its end, as it runs retrograde or mirrored.
    words TEXT NOT NULL,  -- Spelling of each word by which it is compared, several parted by |, lost letters as *.
    joined TEXT NOT NULL,  -- The first spellings without spaces.
    letters TEXT NOT NULL,  -- The letters on the bell itself, with case and marks, for the exact search.
    has_gap INTEGER NOT NULL CHECK (has_gap IN (0, 1)),  -- 1: letters are lost, and nobody knows how many.
    PRIMARY KEY (bell_id, survey_id, number, backwards)
) STRICT, WITHOUT ROWID;
