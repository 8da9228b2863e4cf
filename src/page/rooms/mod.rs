//! What the learner sees: one file a room, or a folder where it has several, each with a component `Room` (or the one named).
//! What only one room needs belongs into its folder; what two need belongs on a floor below.
//! They may use `drills` and below; the shell only calls them.
//!
//! | room | what for |
//! | --- | --- |
//! | [`course`] | the units of the course, their lessons, find my place |
//! | [`session`] | a session |
//! | [`practise`] | one thing to practise, chosen freely |
//! | [`read`] | the shelf, own files, a paper book; a text on its sheet |
//! | [`write`] | free writing and copying |
//! | [`transcribe`] | print to braille against a source; layout, check, own slips |
//! | [`proofread`] | planted mistakes, a trial hand-in, the reading desk |
//! | [`signs`] | the chart, reference sheets, flash cards |
//! | [`record`] | the learner's record |
//! | [`set_work`] | a teacher's desk |
//! | [`exercise`] | a shared exercise, in the room of its task; its rounds of signs or lines |
//! | [`slip`] | a result slip |
//! | [`licences`] | the licence texts of what the page brings along |

pub mod course;
pub mod exercise;
pub mod licences;
pub mod practise;
pub mod proofread;
pub mod read;
pub mod record;
pub mod session;
pub mod set_work;
pub mod signs;
pub mod slip;
pub mod transcribe;
pub mod write;
