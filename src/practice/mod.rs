//! Course units, drills, what is due, the learner's record.
