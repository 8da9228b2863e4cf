//! Course units, drills, what is due, the learner's record.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`units`] | the course, read from `units.txt`; signs left out and why |
//! | [`lesson`] | what is read of a unit: its rules, examples walked through cell by cell |
//! | [`course`] | the room Course as state and actions; how each unit stands |
//! | [`find`] | a check that finds a learner's place in the course |
//! | [`readable`] | how many texts can be read in full at a place of the course |
//! | [`chart`] | the chart of signs: what is looked for, meanings of one cell together |
//! | [`due`] | one memory per sign and direction, and when it is due |
//! | [`scheduler`] | the library that says when what was answered is due again |
//! | [`kept`] | what is kept of each sign and rule: what is due, and which unit opens |
//! | [`session`] | a sitting: what is shown, asked and applied, in its time |
//! | [`sitting`] | a session as it is seen: what stands on the screen, what the learner does, what follows |
//! | [`record`] | the learner's log: kept in journals, merged without loss |
//! | [`past`], [`sums`], [`compact`] | what is left of answers long past; what the figures count; how a long record is made short |
//! | [`figures`] | what the log says: accuracy, speed, confusions, progress |
//! | [`progress`] | how far a learner is towards a goal, and when it is reached at this pace |
//! | [`lookalike`] | signs that look like a sign |
//! | [`clues`] | clues for any cell, a step at a time, and readings of a doubtful cell |
//! | [`choose`] | what comes next |
//! | [`drill`] | single signs to name or to write, judged |
//! | [`misread`] | what was read instead, and at which cell |
//! | [`names`] | what signs are called in everyday words |
//! | [`told_line`] | what somebody says a line says, judged by cells and words |
//! | [`line`], [`lines`] | a line to read or to write; words and sentences, judged |
//! | [`clauses`] | the clauses of the rules that are practised, each with a memory of its own |
//! | [`rules`] | which letters of a word are contracted, and why not the others |
//! | [`turning`] | words and lines that turn on a rule |
//! | [`low`] | lone dots and low shapes within a line |
//! | [`supply`] | words, sentences from frames, and the share of a text the learner knows |
//! | [`passages`] | graded texts |
//! | [`shelf`] | the books: their files, and whether each is what its head says |
//! | [`reading`] | a text laid out on pages, and what each word says |
//! | [`book`] | the learner's own texts and braille files |
//! | [`reader`] | somebody reading a text: where they are, what is uncovered, what they said |
//! | [`beside`] | cells copied from a paper book, with doubt |
//! | [`likely`] | how likely words are, for readings of doubtful cells |

pub mod beside;
pub mod book;
pub mod chart;
pub mod choose;
pub mod clauses;
pub mod clues;
pub mod compact;
pub mod course;
pub mod drill;
pub mod due;
pub mod figures;
pub mod find;
pub mod kept;
pub mod lesson;
pub mod likely;
pub mod line;
pub mod lines;
pub mod lookalike;
pub mod low;
pub mod misread;
pub mod names;
pub mod passages;
pub mod past;
pub mod progress;
pub mod readable;
pub mod reader;
pub mod reading;
pub mod ready;
pub mod record;
pub mod rules;
pub mod scheduler;
pub mod session;
pub mod shelf;
pub mod sitting;
pub mod sums;
pub mod supply;
pub mod told_line;
pub mod turning;
pub mod units;
