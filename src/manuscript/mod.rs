//! Manuscripts: print laid out as braille pages, braille files, and the check before hand-in.
//!
//! | file | what it does |
//! | --- | --- |
//! | [`block`] | blocks of print: what each is, and where its lines begin |
//! | [`source`] | print with a handful of CommonMark's block marks, as blocks |
//! | `markdown` | print with all of Markdown and a few fenced blocks of our own, as blocks |
//! | [`forms`] | how verse, plays, letters, quotations, boxes, notes, contents and tables are set |
//! | [`rules`] | the rules of layout: number, sentence, source |
//! | [`made`] | the contents and the special symbols page, made from the text |
//! | [`volumes`] | a text of several volumes, each laid out by itself |
//! | [`told`] | print that can't be set, with its place |
//! | [`layout`] | blocks as pages of 40 by 25 cells, found again from the page that changed |
//! | `whole` | the blocks as one run of print, and the braille of each as it is in the whole text |
//! | `set`, `tabular`, `page`, `fill`, `head`, `title` | its parts: a block's lines, lines of fixed places, a page, its lines, the running head, the title page |
//! | [`reflow`] | the blocks of a braille file, to be laid out anew |
//! | [`work`] | written pages as running text, and all of marking against the print |
//! | [`tour`] | the places of a piece where this learner tends to slip |
//! | [`copy`], [`follow`] | the print on the copyholder, line by line; which of them is being written |
//! | [`notes`] | notes at the cells of a file, as a list |
//! | [`number`] | braille and print page numbers |
//! | [`file`] | braille ASCII and Unicode braille files, and back byte for byte |
//! | [`check`] | the hand-in check of a piece or a volume |
//! | [`slate`] | the punching guide: mirrored, from right to left |
//!
//! Format values follow *Braille Formats: Principles of Print-to-Braille Transcription*, 2016, Braille Authority of
//! North America. Its text is not at hand, so every value is from memory; [`rules`] names sections where they are sure.
//!
//! ```
//! use cellwright::manuscript::{Sheet, check, file::BrailleFile, layout::Manuscript};
//! let pages = Manuscript::from_print("# notice\n\nthe ferry leaves at ten\n", Sheet::default());
//! let file = BrailleFile::from_pages(&pages.lines());
//! let items = check::check(&file, &check::Asked::default());
//! assert!(items.iter().all(|item| item.result != check::Outcome::ToFix));
//! ```

pub mod block;
pub mod check;
pub mod copy;
pub mod file;
mod fill;
pub mod follow;
pub mod forms;
mod head;
pub mod layout;
pub mod made;
#[cfg(feature = "markdown")]
pub mod markdown;
pub mod notes;
pub mod number;
mod page;
pub mod reflow;
pub mod rules;
mod set;
pub mod slate;
pub mod source;
mod tabular;
mod title;
pub mod told;
pub mod tour;
pub mod volumes;
mod whole;
pub mod work;

use crate::ueb::Edition;

/// The sheet and how text is set on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sheet {
    /// Cells in a line, 12 to 60.
    pub cells: usize,
    /// Lines on a page, 5 to 40.
    pub lines: usize,
    /// Contracted braille, or uncontracted.
    pub contracted: bool,
    /// Whether braille pages carry their number.
    pub numbered: bool,
    /// Whether words are divided at a line's end (10.13).
    pub divide: bool,
    /// Which practice the pages follow.
    pub profile: Profile,
    /// The edition of the rules that is followed.
    pub edition: Edition,
}

/// Which practice pages follow, where national practice differs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Profile {
    /// With print page numbers and the lines at which print pages change.
    #[default]
    Full,
    /// Without print page numbers.
    Plain,
}

impl Default for Sheet {
    /// 40 cells by 25 lines (common practice), contracted, numbered, words left whole.
    fn default() -> Self {
        Sheet {
            cells: 40,
            lines: 25,
            contracted: true,
            numbered: true,
            divide: false,
            profile: Profile::Full,
            edition: Edition::Second,
        }
    }
}

impl Sheet {
    /// How its print is written.
    fn options(self) -> crate::ueb::Options {
        crate::ueb::Options { contracted: self.contracted, marks: true, edition: self.edition }
    }

    /// The nearest sheet within bounds.
    pub fn bounded(self) -> Sheet {
        Sheet { cells: self.cells.clamp(12, 60), lines: self.lines.clamp(5, 40), ..self }
    }
}

/// Cells left blank before a page number that shares its line (from memory).
pub const GAP: usize = 3;
