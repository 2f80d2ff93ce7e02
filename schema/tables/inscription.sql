-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- Words, signs and ornament on the bell.
CREATE TABLE inscription (
    survey_id TEXT NOT NULL,  -- The survey that tells it.
    bell_id TEXT NOT NULL,  -- The bell it tells of.
    number INTEGER NOT NULL CHECK (number BETWEEN 1 AND 99),  -- Running number on this bell, the same at every visit.
    place TEXT NOT NULL CHECK (place = 'crown' OR place = 'shoulder' OR place = 'waist-front' OR place = 'waist-back' OR place = 'waist' OR place = 'soundbow' OR place = 'lip' OR place = 'inside' OR place = 'fittings' OR place = 'other'),  -- Where on the bell it stands.
    transcription TEXT CHECK (length(transcription) BETWEEN 1 AND 4000),  -- Letter for letter, Leiden signs: (abc) expanded, [abc] lost, [---] gap, | line end.
    expansion TEXT CHECK (length(expansion) BETWEEN 1 AND 4000),  -- Read out in full.
    translation TEXT CHECK (length(translation) BETWEEN 1 AND 4000),  -- What it means, in the language of this form.
    language TEXT CHECK (length(language) BETWEEN 1 AND 200),  -- Language of the text, BCP 47: la, de, gmh, mul.
    script TEXT CHECK (script GLOB '[A-Z][a-z][a-z][a-z]'),  -- Script, ISO 15924: Latn, Latf, Cyrl, Hebr.
    lettering TEXT CHECK (lettering = 'lombardic' OR lettering = 'black-letter' OR lettering = 'early-humanist' OR lettering = 'roman' OR lettering = 'roman-mixed' OR lettering = 'fraktur' OR lettering = 'cursive' OR lettering = 'modern' OR lettering = 'other'),  -- Style of the letters.
    direction TEXT CHECK (direction = 'onwards' OR direction = 'retrograde' OR direction = 'mirrored' OR direction = 'single-letters-mirrored' OR direction = 'upside-down' OR direction = 'mixed'),  -- Does it read onwards, backwards, mirrored?
    technique TEXT CHECK (technique = 'cast' OR technique = 'incised-mould' OR technique = 'thread' OR technique = 'cast-sunk' OR technique = 'engraved' OR technique = 'painted' OR technique = 'stamped' OR technique = 'other' OR technique = 'unknown'),  -- How it was made.
    legibility TEXT CHECK (legibility = 'full' OR legibility = 'mostly' OR legibility = 'partly' OR legibility = 'hardly' OR legibility = 'illegible' OR legibility = 'not-seen' OR legibility = 'none'),  -- How well it can be read.
    letter_height_mm REAL CHECK (letter_height_mm BETWEEN 1 AND 400),  -- Height of the letters.
    ornament TEXT CHECK (length(ornament) BETWEEN 1 AND 2000),  -- Ornament, coins, seals, figures beside the words.
    remarks TEXT CHECK (length(remarks) BETWEEN 1 AND 2000),  -- Slips, mirrored or inverted letters, doubts.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id, bell_id, number),
    FOREIGN KEY (survey_id, bell_id) REFERENCES bell_seen (survey_id, bell_id)
) STRICT, WITHOUT ROWID;
