//! Symbols of print: what each is, as far as the rules of placement ask, and the sign it takes.

use super::super::register::{self, Class, SignId};
use super::known::known;

/// What kind of thing a symbol is, as far as the rules of placement ask.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Kind {
    /// A blank.
    Space,
    /// A letter with its modifiers (4.1 to 4.5).
    Letter,
    /// A digit.
    Digit,
    /// A space inside a number (6.6).
    NumericSpace,
    /// The line of a simple fraction (11.3).
    FractionLine,
    /// Opening bracket of 2.6.2.
    Open,
    /// Closing bracket of 2.6.3.
    Close,
    /// A quotation mark that opens.
    OpenQuote,
    /// A quotation mark that closes.
    CloseQuote,
    /// An apostrophe.
    Apostrophe,
    /// A hyphen.
    Hyphen,
    /// A dash of any length.
    Dash,
    /// , ; : . ! ? and the ellipsis (2.6.3).
    Stop,
    /// Any other sign.
    Other,
    /// Begin of a super- or subscript.
    Index,
    /// End of a super- or subscript.
    IndexEnd,
    /// A quotation mark or apostrophe whose kind is not settled yet.
    Quote,
    /// No sign stands for it.
    Unhandled,
}

/// One symbol of print.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Symbol {
    pub kind: Kind,
    /// The letter in lower case, or the character itself.
    pub ch: char,
    pub upper: bool,
    /// Bound to the next letter by a ligature indicator (4.3).
    pub ligature: bool,
    /// Its modifier stands over the next letter too (4.2.5).
    pub group: bool,
    pub sign: SignId,
    pub modifiers: [Option<SignId>; 3],
    /// Place and length in the print, in scalar values.
    pub at: u32,
    pub len: u32,
    /// Capitals indicator before it: 0 none, 1 letter, 2 word, 3 passage.
    pub capital: u8,
    /// A capitals terminator follows it.
    pub capital_end: bool,
    /// A digit with which a number of its own begins, right after another (11.3.2).
    pub fresh: bool,
    /// A letter put in the place of a character that has no sign; that is reported.
    pub stands_in: bool,
    /// In a foreign passage (13.2.1).
    pub foreign: bool,
}

impl Symbol {
    pub fn new(kind: Kind, ch: char, sign: SignId, at: usize) -> Symbol {
        Symbol {
            kind,
            ch,
            upper: false,
            ligature: false,
            group: false,
            sign,
            modifiers: [None; 3],
            at: at as u32,
            len: 1,
            capital: 0,
            capital_end: false,
            fresh: false,
            stands_in: false,
            foreign: false,
        }
    }

    /// An unmodified letter a to z.
    pub fn plain(&self) -> bool {
        self.kind == Kind::Letter
            && self.ch.is_ascii_lowercase()
            && self.modifiers[0].is_none()
            && !self.ligature
            && !self.stands_in
    }

    /// A quotation mark.
    pub fn quotation_mark(&self) -> bool {
        matches!(self.kind, Kind::OpenQuote | Kind::CloseQuote)
    }

    /// Whether the sign is written with lower cells only; quotation marks of two cells count as lower (10.5.1).
    pub fn lower(&self) -> bool {
        self.quotation_mark() || register::get(self.sign).cells.iter().all(|c| !c.is_upper())
    }
}

/// The ties over and under two letters, which join them (4.3.1).
pub(crate) const TIES: [char; 2] = ['\u{361}', '\u{35c}'];

/// Spaces that do not break separate the parts of a number only before one of its digits (6.6).
pub(crate) fn numeric_spaces(symbols: &mut [Symbol]) {
    for i in 0..symbols.len() {
        let digit = symbols.get(i + 1).is_some_and(|next| next.kind == Kind::Digit && !next.fresh);
        if symbols[i].kind == Kind::NumericSpace && !digit {
            symbols[i].kind = Kind::Space;
        }
    }
}

/// Whether it is a character that is not seen, such as a soft hyphen.
pub(crate) fn unseen(c: char) -> bool {
    matches!(c, '\u{ad}' | '\u{200b}'..='\u{200f}' | '\u{feff}' | '\u{2060}' | '\u{fe0f}')
}

/// Whether it closes a typeform.
pub(crate) fn terminator(sign: SignId) -> bool {
    register::get(sign).class == Class::Terminator
}

/// Signs whose cells would be read as a contraction outside grade 1 mode.
pub(crate) fn needs_grade1(s: &Symbol) -> bool {
    let know = known();
    s.ch == '∫' || [know.root_open, know.root_close, know.general_open, know.general_close].contains(&s.sign)
}

/// Whether it may stand between a letters-sequence and the space before it (2.6.2).
pub(crate) fn before_ok(s: &Symbol) -> bool {
    matches!(s.kind, Kind::Open | Kind::OpenQuote | Kind::Apostrophe)
}

/// Whether it may stand between a letters-sequence and the space after it (2.6.3).
pub(crate) fn after_ok(s: &Symbol) -> bool {
    matches!(s.kind, Kind::Stop | Kind::Close | Kind::CloseQuote | Kind::Apostrophe)
}

/// Whether it ends what stands alone (2.6.1).
pub(crate) fn edge(s: &Symbol) -> bool {
    matches!(s.kind, Kind::Space | Kind::Hyphen | Kind::Dash)
}
