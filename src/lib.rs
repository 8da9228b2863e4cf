//! Cellwright: a practice page for people who learn to read and transcribe Unified English Braille by eye.
//!
//! This page is the map of the house. Arrows point one way, down this list; nothing below knows of
//! anything above (`tests/tower.rs` holds that).
//!
//! | room | what it does |
//! | --- | --- |
//! | `page` | the site (Yew), in the browser: a tower of folders with a map of its own, from the shell and the rooms down to what the browser lends |
//! | [`exercise`] | what a teacher sets: contents, links, result slips |
//! | [`practice`] | course units, drills, what is due, the learner's record |
//! | [`manuscript`] | pages of 40 by 25 cells, headings, page numbers, title page, hand-in check |
//! | [`marking`] | written braille against what print asks for: findings, with causes |
//! | [`writing`] | braille as it is being written: caret, selection, undo, and what it says, live |
//! | [`keys`] | six keys to cells: chords, roll-over, one-hand entry, slate order |
//! | [`ueb`] | the code: print to braille and back, with the reason for each sign |
//! | [`cell`] | the six-dot cell: dots, mirror, braille order, notations |
//! | [`order`] | sorting, small sets and bounds, in one piece of code for every type |
//!
//! ```
//! use cellwright::{cell, ueb};
//! let cells = ueb::transcribe("cat", &ueb::Options::default());
//! assert_eq!(cell::to_ascii(&cells), "cat");
//! ```
#![deny(missing_docs)]
#![forbid(unsafe_code)]

pub mod cell;
pub mod exercise;
pub mod keys;
pub mod manuscript;
pub mod marking;
pub mod order;
pub mod page;
pub mod practice;
pub mod ueb;
pub mod writing;
