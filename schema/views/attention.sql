-- What needs a look: order by rank, gravest first. Bells that are gone ask for nothing.
CREATE VIEW attention (kind, severity, bell_id, tower_id, survey_id, what, rank) AS
WITH present AS (
    SELECT * FROM bell_current
    WHERE status IS NULL
        OR status NOT IN ('moved', 'requisitioned', 'lost', 'stolen', 'destroyed', 'recast')
),
last_visit AS (
    SELECT tower_id, id, max(as_of) AS as_of FROM survey WHERE kind = 'visit' GROUP BY tower_id
),
last_hazards AS (
    SELECT survey.tower_id, survey.id, max(survey.as_of) AS as_of
    FROM survey
    WHERE survey.kind = 'visit' AND EXISTS (SELECT 1 FROM hazard WHERE hazard.survey_id = survey.id)
    GROUP BY survey.tower_id
),
earlier_crack AS (
    SELECT crack.bell_id, crack.number, crack.state, crack.survey_id, max(survey.as_of) AS as_of
    FROM crack
    JOIN survey ON survey.id = crack.survey_id
    GROUP BY crack.bell_id, crack.number, crack.state
),
graded AS (
    SELECT survey.tower_id, assessment.bell, assessment.component, assessment.urgency, survey.id AS survey_id,
        max(survey.as_of) AS as_of
    FROM assessment
    JOIN survey ON survey.id = assessment.survey_id
    WHERE assessment.urgency IS NOT NULL
    GROUP BY survey.tower_id, assessment.bell, assessment.component
),
finding (kind, bell_id, tower_id, survey_id, first_value, second_value, third_value) AS (
    SELECT
        CASE
            WHEN crack.state = 'suspected' THEN 'crack-suspected'
            WHEN crack.side = 'through' THEN 'crack-through'
            ELSE 'crack-confirmed'
        END,
        present.id, present.tower_id, crack.survey_id, crack.number, coalesce(crack.position, 'place not told'), NULL
    FROM present
    JOIN crack ON crack.bell_id = present.id AND crack.survey_id = present.crack_survey_id
    WHERE crack.state <> 'none'
    UNION ALL
    SELECT
        iif(EXISTS (
            SELECT 1 FROM crack
            WHERE crack.bell_id = present.id AND crack.survey_id = present.crack_survey_id
                AND crack.number = earlier_crack.number AND crack.repaired = 'welded'
        ), 'crack-welded', 'crack-no-longer-told'),
        present.id, present.tower_id, earlier_crack.survey_id, earlier_crack.number, earlier_crack.state, NULL
    FROM present
    JOIN earlier_crack ON earlier_crack.bell_id = present.id
    WHERE earlier_crack.state <> 'none'
        AND earlier_crack.survey_id <> present.crack_survey_id
        AND NOT EXISTS (
            SELECT 1 FROM crack
            WHERE crack.bell_id = present.id AND crack.survey_id = present.crack_survey_id
                AND crack.number = earlier_crack.number AND crack.state <> 'none'
        )
    UNION ALL
    SELECT 'worn-soundbow', id, tower_id, soundbow_survey_id, printf('%.0f', soundbow_loss_percent), NULL, NULL
    FROM present
    WHERE soundbow_loss_percent > (SELECT threshold FROM attention_rule WHERE kind = 'worn-soundbow')
    UNION ALL
    SELECT
        iif(graded.urgency = 3, 'urgency-at-once', 'urgency-soon'), graded.bell, graded.tower_id,
        graded.survey_id, graded.component, NULL, NULL
    FROM graded
    WHERE graded.urgency >= 2 AND (graded.bell IS NULL OR graded.bell IN (SELECT id FROM present))
    UNION ALL
    SELECT
        'hazard-' || hazard.kind, NULL, last_hazards.tower_id, hazard.survey_id,
        coalesce(hazard."where", hazard.remark, 'place not told'), NULL, NULL
    FROM last_hazards
    JOIN hazard ON hazard.survey_id = last_hazards.id
    UNION ALL
    SELECT
        'mass-disagreement', id, tower_id, mass_survey_id, printf('%.0f', mass_kg),
        printf('%.0f', mass_estimate_low_kg), printf('%.0f', mass_estimate_high_kg)
    FROM present
    WHERE mass_agrees = 'no'
    UNION ALL
    SELECT
        'disagreement', disagreement.bell_id, present.tower_id, disagreement.survey_id, disagreement.field,
        iif(typeof(disagreement.value) = 'real', printf('%g', disagreement.value), disagreement.value) || unit.sign,
        iif(typeof(disagreement.other_value) = 'real', printf('%g', disagreement.other_value), disagreement.other_value)
            || unit.sign
    FROM disagreement
    JOIN (
        SELECT '_mm' AS ending, ' mm' AS sign
        UNION ALL SELECT '_kg', ' kg'
        UNION ALL SELECT '_hz', ' Hz'
        UNION ALL SELECT '', ''
    ) AS unit ON unit.ending = iif(substr(disagreement.field, -3) IN ('_mm', '_kg', '_hz'), substr(disagreement.field, -3), '')
    JOIN present ON present.id = disagreement.bell_id
    UNION ALL
    SELECT 'protection-unknown', NULL, id, last_survey_id, NULL, NULL, NULL
    FROM tower_current
    WHERE protection IS NULL OR protection = 'unknown'
    UNION ALL
    SELECT
        'not-inspected', not_inspected.bell, last_visit.tower_id, not_inspected.survey_id, not_inspected.part,
        rtrim(not_inspected.reason, '.'), NULL
    FROM last_visit
    JOIN not_inspected ON not_inspected.survey_id = last_visit.id
    UNION ALL
    SELECT 'never-visited', NULL, id, last_survey_id, NULL, NULL, NULL
    FROM tower_current
    WHERE last_visit_date IS NULL AND bells > bells_gone
    UNION ALL
    SELECT
        'visit-overdue', NULL, tower_current.id, last_visit.id,
        printf('%d', (julianday('now') - julianday(last_visit.as_of)) / 365.25), NULL, NULL
    FROM tower_current
    JOIN last_visit ON last_visit.tower_id = tower_current.id
    WHERE julianday('now') - julianday(last_visit.as_of)
        > 365.25 * (SELECT threshold FROM attention_rule WHERE kind = 'visit-overdue')
)
SELECT
    rule.kind, rule.severity, finding.bell_id, finding.tower_id, finding.survey_id,
    printf(rule.text, finding.first_value, finding.second_value, finding.third_value), rule.rank
FROM finding
JOIN attention_rule AS rule ON rule.kind = finding.kind;
