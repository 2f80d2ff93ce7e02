-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- The document that speaks of the bells, when the form records no visit.
CREATE TABLE document (
    survey_id TEXT NOT NULL REFERENCES survey (id),  -- The survey that tells it.
    kind TEXT NOT NULL CHECK (kind = 'archive-entry' OR kind = 'inventory' OR kind = 'requisition-list' OR kind = 'foundry-record' OR kind = 'expert-report' OR kind = 'publication' OR kind = 'newspaper' OR kind = 'photograph' OR kind = 'recording' OR kind = 'rubbing' OR kind = 'oral' OR kind = 'other'),  -- What sort of document.
    title TEXT NOT NULL CHECK (length(title) BETWEEN 1 AND 500),  -- Title or description.
    date TEXT CHECK (length(date) BETWEEN 1 AND 200),  -- When it was written.
    author TEXT CHECK (length(author) BETWEEN 1 AND 200),  -- Who wrote it, if known.
    holder TEXT CHECK (length(holder) BETWEEN 1 AND 300),  -- Archive, library or person that keeps it.
    shelfmark TEXT CHECK (length(shelfmark) BETWEEN 1 AND 200),  -- Shelfmark, volume, folio or page.
    reliability TEXT CHECK (reliability = 'certain' OR reliability = 'probable' OR reliability = 'possible' OR reliability = 'doubtful' OR reliability = 'unknown'),  -- How far its statements can be trusted.
    as_written TEXT NOT NULL CHECK (json_valid(as_written)),  -- As the form has it: {field: [line, column, "text"]}; the field "" is the section itself.
    PRIMARY KEY (survey_id)
) STRICT, WITHOUT ROWID;
