//! What a room or the page is, as plain data: states, actions and pure reducers, without a type of the browser.
//! They are the only floor of the page that is compiled and tested natively too (`cargo test --lib page::states`).
//! They may use what lies below the page, and no other floor.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`course_rules`] | the rules of layout that the learner's course has |
//! | [`margin`] | notes beside the lines of the writing surface |
//! | [`own_slips`] | what a grader marked, entered as a list |
//! | [`trial_manuscript`] | the trial manuscript, from print to parcel |
//! | [`desk`] | the desk of Transcribe: copy, sheet, braille laid on it, marks |
//! | [`proof_sheet`] | a sheet that is proofread: cursor, calls, score |
//! | [`reading_desk`] | a braille file of one's own with notes |
//! | [`hand_over`] | what the first download hands to the whole page |
//! | [`home`] | one file that takes everything home, and what comes of opening it elsewhere |
//! | [`people`] | the people who share a browser |

pub mod course_rules;
pub mod desk;
pub mod hand_over;
pub mod home;
pub mod margin;
pub mod own_slips;
pub mod people;
pub mod proof_sheet;
pub mod reading_desk;
pub mod trial_manuscript;
