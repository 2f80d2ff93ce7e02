"""What state a bell is in, how that changes, and what to do next, from what surveys saw.

Pure functions over plain values: grades with the rules that gave them (``grading``), wear and cracks followed
through the visits (``following``, ``growth``), places to turn a bell to (``turning``), what it does to its
fittings when it swings (``swing``), what may be proposed (``judgement``), and when to look again
(``inspection``). Thresholds and wording are data: ``schema/rules/condition.yaml``, ``judgement.yaml`` and
``protection.yaml``.

Nothing here is a structural or safety certificate, nor a diagnosis.
"""
