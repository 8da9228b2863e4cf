//! What happens: answers, marks, notes, texts that were read, sessions and runs.

/// From what to what.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Direction {
    /// From cells to their meaning.
    Read,
    /// From the meaning to cells.
    Write,
    /// From dot numbers to the meaning.
    Numbers,
    /// From the meaning to dot numbers.
    SayNumbers,
    /// From the meaning to the mirrored cell of a slate.
    Slate,
    /// From the mirrored back of a sheet to the meaning.
    Back,
    /// From dot numbers to the cell.
    NumbersCell,
    /// From the cell to its dot numbers.
    CellNumbers,
    /// Whether a word uses the sign, and why.
    Rule,
}

impl Direction {
    /// All of them.
    pub const ALL: [Direction; 9] = [
        Direction::Read,
        Direction::Write,
        Direction::Numbers,
        Direction::SayNumbers,
        Direction::Slate,
        Direction::Back,
        Direction::NumbersCell,
        Direction::CellNumbers,
        Direction::Rule,
    ];

    /// Those in which a sign is asked on its own.
    pub const SIGNS: [Direction; 8] = [
        Direction::Read,
        Direction::Write,
        Direction::Numbers,
        Direction::SayNumbers,
        Direction::NumbersCell,
        Direction::CellNumbers,
        Direction::Slate,
        Direction::Back,
    ];

    /// The word in the log and on the page.
    pub fn name(self) -> &'static str {
        match self {
            Direction::Read => "read",
            Direction::Write => "write",
            Direction::Numbers => "from dot numbers",
            Direction::SayNumbers => "to dot numbers",
            Direction::Slate => "slate",
            Direction::Back => "back of the sheet",
            Direction::NumbersCell => "dot numbers to cell",
            Direction::CellNumbers => "cell to dot numbers",
            Direction::Rule => "rule",
        }
    }

    pub(in crate::practice) fn of(name: &str) -> Option<Direction> {
        Direction::ALL.into_iter().find(|direction| direction.name() == name)
    }
}

/// One answer about one sign.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// When, in milliseconds since 1970.
    pub at: u64,
    /// The sign's key.
    pub sign: String,
    /// From what to what.
    pub direction: Direction,
    /// Whether it was right.
    pub right: bool,
    /// Time from the moment the item was on screen, in milliseconds.
    pub ms: u64,
    /// How many clues were asked for.
    pub clues: u8,
    /// What was answered instead: a sign's key, dot numbers or text; empty when right or unknown.
    pub instead: String,
    /// The cause of a wrong answer, "eye", "hand" or "rule"; empty when right or unknown.
    pub cause: String,
}

#[cfg(test)]
impl Answer {
    /// A sign that was read, right or wrong, without a clue.
    pub(in crate::practice) fn read(sign: &str, at: u64, right: bool, ms: u64) -> Answer {
        Answer {
            at,
            sign: sign.to_owned(),
            direction: Direction::Read,
            right,
            ms,
            clues: 0,
            instead: String::new(),
            cause: String::new(),
        }
    }
}

/// What happened.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Event {
    /// An answer.
    Answer(Answer),
    /// What a mistake that is in the log already came from, as the question after it told.
    Cause {
        /// The time of the answer that was wrong.
        of: u64,
        /// The sign's key.
        sign: String,
        /// "eye", "hand" or "rule".
        cause: String,
    },
    /// A sign was marked by hand as learned elsewhere, or the mark was taken off.
    Mark {
        /// The sign's key.
        sign: String,
        /// On or off.
        on: bool,
    },
    /// A note at a sign; an empty text takes it away.
    Note {
        /// The sign's key.
        sign: String,
        /// The note.
        text: String,
    },
    /// A sign of the learner's own that a book defines; an empty meaning takes it away.
    Own {
        /// Its cells, as dot numbers parted by spaces.
        cells: String,
        /// What it means.
        meaning: String,
    },
    /// A text that was read, on the page or on paper.
    Text {
        /// Its title.
        title: String,
        /// Words read.
        words: u32,
        /// Cells read.
        cells: u32,
        /// Time, in milliseconds; 0 when not measured.
        ms: u64,
        /// Words that had to be uncovered or were wrong.
        missed: u32,
    },
    /// A session was begun.
    Session {
        /// How long it was to be, in minutes.
        minutes: u32,
    },
    /// A run of chords against the clock.
    Run {
        /// Cells written.
        cells: u32,
        /// Cells written right.
        right: u32,
        /// Time, in milliseconds.
        ms: u64,
        /// The hard changes, cell after cell in braille ASCII, two by two.
        hard: String,
    },
}

impl Event {
    /// What the learner has said of a sign is never past: each word of it holds until another takes its place.
    pub(in crate::practice) fn stays(&self) -> bool {
        matches!(self, Event::Mark { .. } | Event::Note { .. } | Event::Own { .. })
    }
}

/// The id of an event: the tab's name and a number in it. Unique without any talk between tabs.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Id {
    /// The tab's name, letters and digits.
    pub tab: String,
    /// The number in the tab.
    pub n: u64,
}
