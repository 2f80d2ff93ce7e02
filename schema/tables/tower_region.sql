-- Computed: the regions a tower lies in, at any time; a region that is stated counts even where its border is not loaded.
CREATE TABLE tower_region (
    tower_id TEXT NOT NULL REFERENCES tower (id),  -- The tower.
    region_id TEXT NOT NULL,  -- Id of the region; no border may be loaded for it.
    basis TEXT NOT NULL CHECK (basis IN ('stated', 'inside')),  -- stated: the newest survey that tells names it; inside: it stands within the border, or its stated region lies in this one.
    PRIMARY KEY (tower_id, region_id)
) STRICT, WITHOUT ROWID;
