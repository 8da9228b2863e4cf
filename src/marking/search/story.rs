//! A story: what happened, step by step.

use std::ops::Range;

use crate::ueb::SignId;

/// What happened at one place.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Op {
    /// As asked for.
    Match,
    /// Otherwise, and as right: the number of the choice, or none for a dash's spacing or grade 1 (5.10, 7.2).
    Permitted,
    /// A form that is right or wrong by more than print shows; the section that says so.
    YourCall(&'static str),
    /// The sign of a single quotation mark for a double one, or the other way round.
    QuoteWrong,
    /// One cell of a sign, by its place in the sign, is another.
    Shape(u8),
    /// The sign's first cell, a prefix, is missing.
    PrefixLost,
    /// The sign's first cell is another prefix.
    PrefixWrong,
    /// An indicator or a terminator is missing.
    MarkMissing,
    /// An indicator or a terminator too many.
    MarkExtra(SignId),
    /// Another indicator or terminator.
    MarkWrong(SignId),
    /// An indicator that UEB dropped.
    MarkOlder,
    /// An indicator without one of its cells.
    MarkBroken,
    /// No blank cell.
    SpaceMissing,
    /// A blank cell too many.
    SpaceExtra,
    /// A sign left out; several in a row are one run.
    LeftOut,
    /// One cell of a sign left out, by its place in the sign.
    CellLeftOut(u8),
    /// A cell too many; several in a row are one run.
    Added,
    /// Other signs altogether; several in a row are one run.
    Replaced,
    /// Two neighbours in the wrong order.
    Swapped,
    /// Words left out.
    WordsLeftOut,
    /// Words too many.
    WordsAdded,
    /// Another word.
    WordReplaced,
    /// A word of the same letters in another order.
    WordJumbled,
    /// A whole word with every cell mirrored.
    WordMirrored,
    /// A sign of a spelling that is not the one asked for; several in a row are one run.
    Spelled(u16),
    /// The end of a run.
    Close,
}

/// One step of a story.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Move {
    /// What happened.
    pub op: Op,
    /// The signs asked for, by their index.
    pub units: Range<usize>,
    /// The written cells.
    pub written: Range<usize>,
}
