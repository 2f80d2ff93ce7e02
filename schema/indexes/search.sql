-- Words of a bell: its names, its places, its founders, what stands on it. One row per bell.
CREATE VIRTUAL TABLE bell_text USING fts5 (
    bell_id UNINDEXED,
    names,
    places,
    founders,
    inscriptions,
    tokenize = "unicode61 remove_diacritics 2"
);
