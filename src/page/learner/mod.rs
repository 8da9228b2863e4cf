//! The learner as this browser knows them: what they have set, and what they have answered.
//! What every room is handed of the learner belongs here; what follows from it is decided in `practice`.
//! It may use `browser` and below.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`settings`] | what the learner has set, for every room (a context) |
//! | [`journal`] | the learner's record, kept in this browser |
//! | [`left`] | what was left open in the rooms |
//! | [`place`] | where in the course the learner has chosen to begin, and how they want their sessions |
//! | [`rehearsal`] | an exercise that is only shown to the one who sets it: nothing is kept |

pub mod journal;
pub mod left;
pub mod place;
pub mod rehearsal;
pub mod settings;
