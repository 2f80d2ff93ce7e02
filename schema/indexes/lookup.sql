-- Ways from a bell, a tower or a survey to what tells of it.
CREATE INDEX survey_by_tower ON survey (tower_id, as_of);
CREATE INDEX bell_seen_by_bell ON bell_seen (bell_id);
CREATE INDEX assessment_by_bell ON assessment (bell) WHERE bell IS NOT NULL;
CREATE INDEX attachment_by_bell ON attachment (bell) WHERE bell IS NOT NULL;
CREATE INDEX bell_current_by_tower ON bell_current (tower_id, position);
CREATE INDEX bell_current_by_founder ON bell_current (founder_id);
CREATE INDEX bell_current_by_year ON bell_current (cast_earliest_year, cast_latest_year);
CREATE INDEX bell_current_by_size ON bell_current (material, mouth_diameter_mm) WHERE mass_kg IS NOT NULL;
CREATE INDEX recording_by_bell ON recording (bell_id);
CREATE INDEX recording_value_by_bell ON recording_value (bell_id);
CREATE INDEX tower_region_by_region ON tower_region (region_id);
CREATE INDEX bell_stay_by_tower ON bell_stay (tower_id) WHERE tower_id IS NOT NULL;
CREATE INDEX attribution_by_founder ON attribution (founder_id);
CREATE INDEX founder_variant_by_name ON founder_variant (folded);
