//! One file takes everything home: the record, drafts, own texts, exercises, the class sheet, settings. Opened elsewhere,
//! it is merged with what is there; opened again, it adds nothing.
//!
//! | file | what it holds |
//! | --- | --- |
//! | [`keys`] | what this browser keeps under which key, and what that is called |
//! | [`file`] | the file, and why one is refused |
//! | [`merge`], [`told`] | what comes of opening it, and how that is told |
//! | [`places`] | how far texts were read, merged text by text |
//!
//! Work that was changed in one place only is taken from there. For that the file carries, beside each piece, the check
//! sums of what it was before, and each browser keeps those of what it has given and taken.

pub mod file;
pub mod keys;
pub mod merge;
pub mod places;
pub mod told;

use std::collections::BTreeMap;

/// Texts by their keys, without what all keys of the page begin with.
pub type Pieces = BTreeMap<String, String>;

/// Check sums of what each piece was, the latest last.
pub type Known = BTreeMap<String, Vec<u64>>;

/// So many check sums of a piece are remembered.
const REMEMBERED: usize = 24;

/// A check sum (FNV-1a).
fn sum(text: &str) -> u64 {
    text.bytes()
        .fold(0xcbf2_9ce4_8422_2325, |sum, byte| (sum ^ u64::from(byte)).wrapping_mul(0x100_0000_01b3))
}

/// Remembers that a piece was this.
fn remember(known: &mut Known, key: &str, sums: impl IntoIterator<Item = u64>) {
    let of = known.entry(key.to_owned()).or_default();
    for sum in sums {
        of.retain(|one| *one != sum);
        of.push(sum);
    }
    let over = of.len().saturating_sub(REMEMBERED);
    of.drain(..over);
}
