//! The site (Yew): a tower of folders. A file may use its own floor and those below it, never one
//! above; a test (`tests/tower.rs`) holds that.
//!
//! | floor | what belongs there |
//! | --- | --- |
//! | `shell` | the frame around the rooms: names of the rooms, theme, caution; the first screen; starting and stopping |
//! | `rooms` | what the learner sees, one file or folder a room, each with a component `Room` |
//! | `drills` | what a session asks, and how each thing is asked |
//! | `marked` | what marking found, the question after a mistake, scores, handing in |
//! | `surface` | the writing surface, and what follows it key by key |
//! | `widgets` | cells, keys, sheets, paper, switches, fields |
//! | `learner` | the learner's settings and record, as this browser keeps them |
//! | `browser` | storage, data files, files, clipboard, clock, timers, speech |
//! | `route` | the addresses after `#` |
//! | [`states`] | what rooms are, as plain data and pure functions, compiled and tested natively too |
//!
//! All but the last is compiled for the browser only.
//!
//! No rule of braille and no scheduling live here.

#[cfg(target_arch = "wasm32")]
pub mod browser;
#[cfg(target_arch = "wasm32")]
pub mod drills;
#[cfg(target_arch = "wasm32")]
pub mod learner;
#[cfg(target_arch = "wasm32")]
pub mod marked;
#[cfg(target_arch = "wasm32")]
pub mod rooms;
#[cfg(target_arch = "wasm32")]
pub mod route;
#[cfg(target_arch = "wasm32")]
pub mod shell;
pub mod states;
#[cfg(target_arch = "wasm32")]
pub mod surface;
#[cfg(target_arch = "wasm32")]
pub mod widgets;
