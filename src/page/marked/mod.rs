//! Work that has been marked: the findings, the question after a mistake, the score, the slip to hand in.
//! What more than one room shows of `crate::marking` belongs here.
//! It may use `surface` and below.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`findings`] | `<Findings marked=..>`: what marking found, open to the reason, and the marks on the cells |
//! | [`follow_up`] | eye, hand or rule: the question after a mistake |
//! | [`scored`] | a proofread sheet with its score |
//! | [`trial_result`] | how a trial hand-in came out |
//! | [`progress`] | the tries of an exercise, kept, and its clock |
//! | [`hand_in`] | result slips |

pub mod findings;
pub mod follow_up;
pub mod hand_in;
pub mod progress;
pub mod scored;
pub mod trial_result;
