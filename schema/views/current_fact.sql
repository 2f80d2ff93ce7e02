-- Written from registry/model by `python -m registry.store.ddl`; change the model, not this file.

-- Of every fact of a bell the newest value, with the survey it comes from.
CREATE VIEW current_fact (
    bell_id, section, field, value, survey_id, survey_date,
    disagrees, other_value, other_survey_id
) AS
WITH told (bell_id, section, field, value, survey_id, survey_date, newest) AS (
    SELECT bell_seen.bell_id, 'bell_seen', 'name', bell_seen.name, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.name IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'position', bell_seen.position, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.position IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'status', bell_seen.status, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.status IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'material', bell_seen.material, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.material IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'founder', bell_seen.founder, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.founder IS NOT NULL OR bell_seen.founder_id IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'founder_id', bell_seen.founder_id, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.founder IS NOT NULL OR bell_seen.founder_id IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'founder_certainty', bell_seen.founder_certainty, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.founder IS NOT NULL OR bell_seen.founder_id IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'cast_text', bell_seen.cast_text, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.cast_text IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'cast_calendar', bell_seen.cast_calendar, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.cast_text IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'cast_year_begins', bell_seen.cast_year_begins, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.cast_text IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'cast_date', bell_seen.cast_date, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.cast_date IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'dating_basis', bell_seen.dating_basis, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.cast_date IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'protected', bell_seen.protected, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.protected IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'protected_source', bell_seen.protected_source, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.protected IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'wartime_class', bell_seen.wartime_class, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.wartime_class IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'wartime_class_source', bell_seen.wartime_class_source, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.wartime_class IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'bell_seen', 'title', bell_seen.title, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id
    WHERE bell_seen.title IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'dimensions', 'mouth_diameter_mm', dimensions.mouth_diameter_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN dimensions USING (survey_id, bell_id)
    WHERE dimensions.mouth_diameter_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'dimensions', 'mouth_diameter_readings_mm', dimensions.mouth_diameter_readings_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN dimensions USING (survey_id, bell_id)
    WHERE dimensions.mouth_diameter_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'dimensions', 'height_mm', dimensions.height_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN dimensions USING (survey_id, bell_id)
    WHERE dimensions.height_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'dimensions', 'slant_height_mm', dimensions.slant_height_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN dimensions USING (survey_id, bell_id)
    WHERE dimensions.slant_height_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'dimensions', 'shoulder_diameter_mm', dimensions.shoulder_diameter_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN dimensions USING (survey_id, bell_id)
    WHERE dimensions.shoulder_diameter_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'dimensions', 'soundbow_thickness_mm', dimensions.soundbow_thickness_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN dimensions USING (survey_id, bell_id)
    WHERE dimensions.soundbow_thickness_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'dimensions', 'waist_thickness_mm', dimensions.waist_thickness_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN dimensions USING (survey_id, bell_id)
    WHERE dimensions.waist_thickness_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'dimensions', 'head_thickness_mm', dimensions.head_thickness_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN dimensions USING (survey_id, bell_id)
    WHERE dimensions.head_thickness_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'dimensions', 'mass_kg', dimensions.mass_kg, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN dimensions USING (survey_id, bell_id)
    WHERE dimensions.mass_kg IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'dimensions', 'mass_basis', dimensions.mass_basis, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN dimensions USING (survey_id, bell_id)
    WHERE dimensions.mass_kg IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'dimensions', 'mass_includes', dimensions.mass_includes, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN dimensions USING (survey_id, bell_id)
    WHERE dimensions.mass_kg IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'dimensions', 'mass_tolerance_kg', dimensions.mass_tolerance_kg, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN dimensions USING (survey_id, bell_id)
    WHERE dimensions.mass_kg IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'dimensions', 'profile_class', dimensions.profile_class, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN dimensions USING (survey_id, bell_id)
    WHERE dimensions.profile_class IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'sound', 'note', sound.note, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN sound USING (survey_id, bell_id)
    WHERE sound.note IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'sound', 'note_cents', sound.note_cents, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN sound USING (survey_id, bell_id)
    WHERE sound.note IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'sound', 'note_sixteenths', sound.note_sixteenths, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN sound USING (survey_id, bell_id)
    WHERE sound.note IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'sound', 'reference_hz', sound.reference_hz, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN sound USING (survey_id, bell_id)
    WHERE sound.note IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'sound', 'strike_hz', sound.strike_hz, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN sound USING (survey_id, bell_id)
    WHERE sound.strike_hz IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'sound', 'rings_for_s', sound.rings_for_s, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN sound USING (survey_id, bell_id)
    WHERE sound.rings_for_s IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'sound', 'temperature_c', sound.temperature_c, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN sound USING (survey_id, bell_id)
    WHERE sound.temperature_c IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'sound', 'method', sound.method, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN sound USING (survey_id, bell_id)
    WHERE sound.method IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'crown', 'kind', crown.kind, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN crown USING (survey_id, bell_id)
    WHERE crown.kind IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'crown', 'loops', crown.loops, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN crown USING (survey_id, bell_id)
    WHERE crown.loops IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'crown', 'broken_loops', crown.broken_loops, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN crown USING (survey_id, bell_id)
    WHERE crown.broken_loops IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'crown', 'argent', crown.argent, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN crown USING (survey_id, bell_id)
    WHERE crown.argent IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'crown', 'staple', crown.staple, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN crown USING (survey_id, bell_id)
    WHERE crown.staple IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'crown', 'staple_rust', crown.staple_rust, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN crown USING (survey_id, bell_id)
    WHERE crown.staple_rust IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'crown', 'straps', crown.straps, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN crown USING (survey_id, bell_id)
    WHERE crown.straps IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'crown', 'bolts_loose', crown.bolts_loose, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN crown USING (survey_id, bell_id)
    WHERE crown.bolts_loose IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'presence', clapper.presence, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.presence IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'kind', clapper.kind, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.kind IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'material', clapper.material, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.material IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'mass_kg', clapper.mass_kg, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.mass_kg IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'mass_basis', clapper.mass_basis, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.mass_kg IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'length_mm', clapper.length_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.length_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'flight_length_mm', clapper.flight_length_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.flight_length_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'ball_diameter_mm', clapper.ball_diameter_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.ball_diameter_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'flat_width_mm', clapper.flat_width_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.flat_width_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'pivot', clapper.pivot, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.pivot IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'play_vertical_mm', clapper.play_vertical_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.play_vertical_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'play_sideways_mm', clapper.play_sideways_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.play_sideways_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'strike_height_mm', clapper.strike_height_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.strike_height_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'shaft_touches', clapper.shaft_touches, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.shaft_touches IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'clapper', 'hardness_hb', clapper.hardness_hb, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN clapper USING (survey_id, bell_id)
    WHERE clapper.hardness_hb IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'fittings', 'headstock', fittings.headstock, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN fittings USING (survey_id, bell_id)
    WHERE fittings.headstock IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'fittings', 'headstock_state', fittings.headstock_state, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN fittings USING (survey_id, bell_id)
    WHERE fittings.headstock_state IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'fittings', 'bearings', fittings.bearings, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN fittings USING (survey_id, bell_id)
    WHERE fittings.bearings IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'fittings', 'bearings_state', fittings.bearings_state, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN fittings USING (survey_id, bell_id)
    WHERE fittings.bearings_state IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'fittings', 'drive', fittings.drive, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN fittings USING (survey_id, bell_id)
    WHERE fittings.drive IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'fittings', 'drive_state', fittings.drive_state, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN fittings USING (survey_id, bell_id)
    WHERE fittings.drive_state IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'fittings', 'isolator', fittings.isolator, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN fittings USING (survey_id, bell_id)
    WHERE fittings.isolator IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'fittings', 'clock_hammer', fittings.clock_hammer, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN fittings USING (survey_id, bell_id)
    WHERE fittings.clock_hammer IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'fittings', 'hammer_mass_kg', fittings.hammer_mass_kg, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN fittings USING (survey_id, bell_id)
    WHERE fittings.hammer_mass_kg IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'fittings', 'hammer_clearance_mm', fittings.hammer_clearance_mm, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN fittings USING (survey_id, bell_id)
    WHERE fittings.hammer_clearance_mm IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'fittings', 'hammer_clear_of_swing', fittings.hammer_clear_of_swing, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN fittings USING (survey_id, bell_id)
    WHERE fittings.hammer_clear_of_swing IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'ringing', 'style', ringing.style, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN ringing USING (survey_id, bell_id)
    WHERE ringing.style IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'ringing', 'swing_angle_deg', ringing.swing_angle_deg, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN ringing USING (survey_id, bell_id)
    WHERE ringing.swing_angle_deg IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'ringing', 'strokes', ringing.strokes, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN ringing USING (survey_id, bell_id)
    WHERE ringing.strokes IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'ringing', 'strokes_in_s', ringing.strokes_in_s, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN ringing USING (survey_id, bell_id)
    WHERE ringing.strokes IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'ringing', 'hours_a_year', ringing.hours_a_year, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN ringing USING (survey_id, bell_id)
    WHERE ringing.hours_a_year IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'ringing', 'clock_strikes_a_day', ringing.clock_strikes_a_day, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN ringing USING (survey_id, bell_id)
    WHERE ringing.clock_strikes_a_day IS NOT NULL GROUP BY bell_seen.bell_id
    UNION ALL
    SELECT bell_seen.bell_id, 'ringing', 'in_use', ringing.in_use, survey.id, as_of, max(as_of || ' ' || survey.date || ' ' || survey.id)
    FROM bell_seen JOIN survey ON survey.id = bell_seen.survey_id JOIN ringing USING (survey_id, bell_id)
    WHERE ringing.in_use IS NOT NULL GROUP BY bell_seen.bell_id
)
SELECT
    told.bell_id, told.section, told.field, told.value, told.survey_id, told.survey_date,
    disagreement.bell_id IS NOT NULL, disagreement.other_value, disagreement.other_survey_id
FROM told
LEFT JOIN disagreement ON disagreement.bell_id = told.bell_id
    AND disagreement.section = told.section AND disagreement.field = told.field
WHERE told.value IS NOT NULL;
