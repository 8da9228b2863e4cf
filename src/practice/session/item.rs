//! What is asked in a session, and how long it usually takes.

use crate::practice::line::Line;
use crate::practice::{drill, rules};

/// One thing to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Item {
    /// A new sign, by its key, is shown.
    Show(&'static str),
    /// A sign is asked.
    Ask(drill::Item),
    /// A word or a line is to be read.
    Read(Line),
    /// A word or a line is to be written.
    Write(Line),
    /// Print turns on a clause, by its section: which letters are contracted?
    Rule(&'static str, rules::Item),
}

/// How long an item takes a learner of middling pace, in milliseconds (our choice; the session goes by the learner's own
/// pace as soon as it knows it).
pub fn usual_time(item: &Item) -> u64 {
    match item {
        Item::Show(_) => 5_000,
        Item::Ask(_) => 4_000,
        Item::Read(line) => 3_000 + 900 * line.cells.len() as u64,
        Item::Write(line) => 3_000 + 1_500 * line.cells.len() as u64,
        Item::Rule(..) => 15_000,
    }
}

/// The time that tells of knowing, in milliseconds: typing a long name is no slowness. `first` is the time to the first
/// key, `whole` the time to the answer, `typed` the number of characters.
pub fn thinking_time(first: u64, whole: u64, typed: usize) -> u64 {
    // 300 ms a key is forty words a minute, slow for someone who types (our choice).
    first.max(whole.saturating_sub(300 * typed as u64)).min(whole)
}
