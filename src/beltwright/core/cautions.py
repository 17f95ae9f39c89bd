"""The cautions that stand in every output, in one place: booklet, drawings, tables and result file read them here."""

from __future__ import annotations

CAUTIONS: tuple[tuple[str, str], ...] = (
    (
        "A design aid",
        (
            "Not approved or endorsed by any classification society or flag, and without tie to any. The text of "
            "the rules "
            "in force at the contract date, with the society's own supplements, prevails."
        ),
    ),
    (
        "Class decides",
        (
            "Ice class and scantlings are assigned by class and flag. Results need review and signature by a naval "
            "architect or engineer entitled to practise where the ship is built or flagged."
        ),
    ),
    (
        "Rule compliance is not safety in ice",
        (
            "The rules assume a design scenario. Larger ice features, compressive ice, more speed, going astern, or a "
            "damaged or worn hull can exceed it."
        ),
    ),
    (
        "Your inputs are yours",
        (
            "Hull form, draughts, displacement and units are taken as given; they are printed beside the results "
            "so that "
            "they can be checked."
        ),
    ),
    (
        "Not covered",
        (
            "Machinery, propellers, rudders and pods, fatigue, weld quality, stability, escape, cargo, shells "
            "that are not "
            "of steel, bows and sterns of a form that class considers case by case."
        ),
    ),
    (
        "Weights are estimates",
        "They carry the allowances stated with them and are no basis for a stability approval.",
    ),
    (
        "Values that are not confirmed",
        (
            "Values not confirmed on the printed page of the rule carry a mark where they are used and are "
            "listed. Confirm "
            "them before a document leaves the office."
        ),
    ),
    (
        "The lightest is the lightest only for what was checked",
        "It may be hard to build, to coat or to inspect.",
    ),
)

SHORT_CAUTION = "Design aid, not class-approved. Review by a qualified, licensed engineer is needed."
