//! What everybody should know who covers an aircraft, whatever the job.
//!
//! Sources: *AC* is AC 43.13-1B chapter 2, by paragraph; *manual* is an FAA-approved covering manual for polyester cloth,
//! 2008, by page.

/// Cautions that belong together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct CautionGroup {
    /// When they matter.
    pub when: &'static str,
    /// What to know, and where it comes from.
    pub cautions: &'static [(&'static str, &'static str)],
}

/// The sentence that stands before all others.
pub(super) const NOT_APPROVED: &str = "This is a planning aid and not approved data. The aircraft maker's manual and the \
     approved manual of the cloth come first; national rules and a licensed inspector decide.";

/// The cautions, in the order of the work.
pub(super) const CAUTIONS: &[CautionGroup] = &[
    CautionGroup {
        when: "Before you start",
        cautions: &[
            (
                "Other cloth or another coating than the original is a major alteration and needs approved data.",
                "AC 2-5",
            ),
            (
                "So is another way to hold the cloth to the ribs: lacing, screws, rivets or clips stay what they were.",
                "AC 2-10a",
            ),
            (
                "Bring in an authorised inspector before the first cut. In the United States a re-covering takes a log entry and \
                 a Form 337; elsewhere the national authority or the association that it trusts says what is asked.",
                "FAA-H-8083-31 chapter 3; manual p. 2",
            ),
            (
                "An owner with a pilot's licence alone may, in the United States, make simple patches only: no lacing, and no \
                 structure or control surface taken off.",
                "14 CFR 43 appendix A(c)(7)",
            ),
            (
                "Keep to one covering system: tapes, threads, cements and coatings of two systems do not mix.",
                "AC 2-5; manual pp. 1–2",
            ),
            ("Have the structure inspected and passed before it is closed in.", "AC 2-6"),
        ],
    },
    CautionGroup {
        when: "While you work",
        cautions: &[
            (
                "A lapped seam lies over structure as wide as the whole seam; wing ribs, stringers and formers are not that.",
                "AC 2-8; manual pp. 15–16",
            ),
            (
                "Cement holds against sliding and not against peeling: on an amateur-built aircraft too, fasten the cloth to the \
                 ribs.",
                "manual pp. 26–27",
            ),
            (
                "Iron with a thermometer beside you, no hotter than the heat table allows: too much tension bends light structure.",
                "manual pp. 13–14, 23, 46",
            ),
            (
                "Cover no inspection opening that is required, and open the drains when all is finished.",
                "AC 2-14b(2); manual p. 2",
            ),
        ],
    },
    CautionGroup {
        when: "Health and fire",
        cautions: &[
            (
                "Dope, thinners and ketones burn and are poisonous: open the doors, wear an organic-vapour mask, gloves and \
                 goggles, and keep flames and sparks away. Nitrate dope burns fastest.",
                "AC 2-32; manual p. 3",
            ),
            (
                "Rubbing cloth builds up charge: earth the structure before you sand or spray, wear cotton, and stir without an \
                 electric drill.",
                "AC table 2-3; manual pp. 3–4",
            ),
            ("Two-part paint with isocyanate needs air from outside; see its data sheet.", "from memory"),
            ("Never melt a drain hole while solvent is in the air.", "common practice, no source"),
        ],
    },
    CautionGroup {
        when: "When it is done",
        cautions: &[
            ("Check the balance of every control surface after covering and after each repair.", "AC 2-5f"),
            ("A loose tape on a control surface trims it: look at edges and notches.", "AC 2-7a(5)"),
            (
                "The strength of the cloth is tested in service, in the United States at each 100-hour or annual inspection.",
                "AC 2-33a",
            ),
        ],
    },
];
