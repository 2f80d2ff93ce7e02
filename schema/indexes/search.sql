-- Words of a bell: its names, its places, its founders, what stands on it. One row per bell, made by
-- registry/store/searchable.py: names, places, founders and translations freed from case and accents,
-- spellings (of names and founders) and inscriptions by the rules of schema/rules/spelling.yaml.
CREATE VIRTUAL TABLE bell_text USING fts5 (
    bell_id UNINDEXED,
    names,
    places,
    founders,
    translations,
    spellings,
    inscriptions,
    tokenize = "unicode61 remove_diacritics 0"
);

-- The words that stand in it.
CREATE VIRTUAL TABLE bell_word USING fts5vocab (bell_text, row);

CREATE INDEX inscription_formula_by_formula ON inscription_formula (formula);
CREATE INDEX inscription_normalised_with_gap ON inscription_normalised (has_gap) WHERE has_gap = 1;
