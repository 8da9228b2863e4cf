//! What a session asks, one component a file.
//! How a thing is asked and the answer taken belongs here; which thing is asked, and when, is decided in `practice`.
//! Drills may use `marked` and below.
//!
//! | file | what it asks |
//! | --- | --- |
//! | [`session`] | a session: one thing at a time, as large as there is room for |
//! | [`sign`] | one sign, in any direction |
//! | [`asked_sign`] | the question of that: cells, dots or meaning |
//! | [`sign_in_box`] | that in one text box |
//! | [`item_before`] | how the item before came out |
//! | [`slate`] | the drawn slate that signs and words are punched on |
//! | [`line`] | words and sentences, to read and to write |
//! | [`read_line`] | one line to read |
//! | [`cell_clues`] | clues for one of its cells |
//! | [`run`] | chords against the clock |
//! | [`pick`] | two signs that look alike: which is it? |
//! | [`low`] | lone dots and low shapes within a line |
//! | [`rule`] | which letters of a word are contracted, and why not the others |
//! | [`reasons`] | the reasons that may bar a contraction, to choose from |
//! | [`teach`] | unknown signs first |
//! | [`one_box`] | any of these in one text box, for a braille display |
//! | [`props`] | what every drill is given |

pub mod asked_sign;
pub mod cell_clues;
pub mod item_before;
pub mod line;
pub mod low;
pub mod one_box;
pub mod pick;
pub mod props;
pub mod read_line;
pub mod reasons;
pub mod rule;
pub mod run;
pub mod session;
pub mod sign;
pub mod sign_in_box;
pub mod slate;
pub mod teach;
