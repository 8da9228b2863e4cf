//! Course units, drills, what is due, the learner's record.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`units`] | the course, read from `units.txt`; signs left out and why |
//! | [`due`] | one memory per sign and direction, and when it is due |
//! | [`record`] | the learner's log: kept in journals, merged without loss |
//! | [`figures`] | what the log says: accuracy, speed, confusions, progress |
//! | [`lookalike`] | signs that look like a sign |
//! | [`clues`] | clues for any cell, a step at a time, and readings of a doubtful cell |
//! | [`drill`] | single signs to name or to write, judged |
//! | [`supply`] | words, sentences from frames, and the share of a text the learner knows |
//! | [`passages`] | graded texts |
//! | [`book`] | the learner's own texts and braille files |

pub mod book;
pub mod clues;
pub mod drill;
pub mod due;
pub mod figures;
pub mod lookalike;
pub mod passages;
pub mod record;
pub mod supply;
pub mod units;
