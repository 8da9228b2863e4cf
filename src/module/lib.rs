//! The module that the browser loads: the library's two doors and nothing else.
//!
//! A package of its own, because the compiler optimises over the bounds of crates only for what is built as a module alone; the
//! library is needed as a library too, by the program and the tests. That saves a tenth of the first download (`src/page/SPEED.md`).
#![forbid(unsafe_code)]

#[cfg(target_arch = "wasm32")]
pub use cellwright::page::shell::start::{begin, stop};
