//! Course units, drills, what is due, the learner's record.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`units`] | the course, read from `units.txt`; signs left out and why |
//! | [`due`] | one memory per sign and direction, and when it is due |
//! | [`schedule`] | when what was answered is due again |
//! | [`record`] | the learner's log: kept in journals, merged without loss |
//! | [`figures`] | what the log says: accuracy, speed, confusions, progress |
//! | [`lookalike`] | signs that look like a sign |
//! | [`clues`] | clues for any cell, a step at a time, and readings of a doubtful cell |
//! | [`choose`] | what comes next |
//! | [`drill`] | single signs to name or to write, judged |
//! | [`lines`] | words and sentences to read or to write, judged |
//! | [`rules`] | which letters of a word are contracted, and why not the others |
//! | [`low`] | lone dots and low shapes within a line |
//! | [`supply`] | words, sentences from frames, and the share of a text the learner knows |
//! | [`passages`] | graded texts |
//! | [`reading`] | a text laid out on pages, and what each word says |
//! | [`book`] | the learner's own texts and braille files |

pub mod book;
pub mod choose;
pub mod clues;
pub mod drill;
pub mod due;
pub mod figures;
pub mod lines;
pub mod lookalike;
pub mod low;
pub mod passages;
pub mod reading;
pub mod ready;
pub mod record;
pub mod rules;
pub mod schedule;
pub mod supply;
pub mod units;
