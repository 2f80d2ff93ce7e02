-- Computed: which region lies in which at some time, anew at each load that changes a border.
CREATE TABLE region_within (
    region_id TEXT NOT NULL REFERENCES region (id),  -- The region.
    ordinal INTEGER NOT NULL CHECK (ordinal > 0),  -- 1 is the nearest: the parent it states, else the smallest that holds it.
    outer_id TEXT NOT NULL REFERENCES region (id),  -- A region it lies in.
    basis TEXT NOT NULL CHECK (basis IN ('stated', 'inside')),  -- Whether a file states it, or the borders show it.
    PRIMARY KEY (region_id, ordinal)
) STRICT, WITHOUT ROWID;
