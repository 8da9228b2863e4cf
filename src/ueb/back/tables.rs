//! Tables of the reader, indexed by cells, made once from the register of signs.

use std::sync::OnceLock;

use super::typeforms::Extent;
use crate::cell::{self, Cell};
use crate::ueb::register::{self, Class, Sign, SignId};

/// One way to read a run of cells.
#[derive(Clone, Debug)]
pub(super) struct Entry {
    pub cells: Vec<Cell>,
    pub sign: SignId,
    pub print: &'static str,
    pub class: Class,
}

/// Everything the reader looks up.
pub(super) struct Tables {
    /// The letter of a cell, `a` to `z`.
    pub letters: [Option<(char, SignId)>; 64],
    /// The one-cell contraction inside a word: strong groupsigns, strong contractions, en and in.
    pub groups: [Option<(&'static str, SignId)>; 64],
    /// The word of a cell that stands alone.
    pub words: [Option<(&'static str, SignId)>; 64],
    /// The sign of a digit, by its cell.
    pub digits: [Option<SignId>; 64],
    /// A numeric space with its digit, by the digit's cell.
    pub spaced_digits: [Option<SignId>; 64],
    /// Graphic signs of more than one cell by their first cell, longest first.
    pub graphic: Vec<Vec<Entry>>,
    /// Initial-letter contractions by the first cell.
    pub initial: Vec<Vec<Entry>>,
    /// Final-letter groupsigns by the first cell.
    pub last: Vec<Vec<Entry>>,
    /// Shortforms by the first cell, longest first.
    pub short: Vec<Vec<Entry>>,
    /// Modifiers by the first cell, with the combining character.
    pub modifiers: Vec<Vec<Entry>>,
    /// Typeform indicators and terminators: by typeform, then by extent.
    pub typeforms: [[Option<SignId>; 4]; 4],
    /// The same of transcriber-defined typeforms (9.5).
    pub own_typeforms: Vec<Entry>,
    /// Signs that the reader names.
    pub keys: Keys,
}

macro_rules! keys {
    ($($field:ident: $key:literal,)*) => {
        /// The signs that the reader names.
        pub(super) struct Keys {
            $(pub $field: Option<SignId>,)*
        }

        impl Keys {
            fn make() -> Keys {
                Keys { $($field: register::by_key($key).map(|sign| sign.id),)* }
            }

            #[cfg(test)]
            pub fn all(&self) -> Vec<(&'static str, Option<SignId>)> {
                vec![$(($key, self.$field),)*]
            }
        }
    };
}

keys! {
    space: "space",
    comma: "comma",
    semicolon: "semicolon",
    colon: "colon",
    proportion: "proportion",
    full_stop: "full stop",
    decimal_point: "full stop (period), decimal point",
    ellipsis: "ellipsis",
    exclamation: "exclamation mark",
    prime: "prime",
    double_prime: "double prime",
    question: "question mark",
    opening_quote: "opening quotation mark",
    closing_quote: "closing quotation mark",
    apostrophe: "apostrophe",
    hyphen: "hyphen",
    ea: "groupsign ea",
    be: "groupsign be",
    bb: "groupsign bb",
    con: "groupsign con",
    cc: "groupsign cc",
    dis: "groupsign dis",
    ff: "groupsign ff",
    gg: "groupsign gg",
    numeric: "numeric indicator",
    numeric_spaced: "spaced numeric indicator",
    numeric_passage: "numeric passage indicator",
    numeric_terminator: "numeric passage terminator",
    fraction_line: "simple numeric fraction line",
    continuation: "line continuation indicator",
    continuation_space: "line continuation indicator with space",
    grade1: "grade 1 symbol indicator",
    grade1_word: "grade 1 word indicator",
    grade1_passage: "grade 1 passage indicator",
    grade1_terminator: "grade 1 terminator",
    capital: "capital letter indicator",
    capitals_word: "capitalised word indicator",
    capitals_passage: "capitalised passage indicator",
    capitals_terminator: "capitals terminator",
    ligature: "ligature indicator",
    capital_ligature: "modifier ligature indicator where only the following letter is capitalised",
    superscript: "superscript indicator",
    subscript: "subscript indicator",
    group_open: "opening braille grouping indicator",
    group_close: "closing braille grouping indicator",
    note_open: "opening transcriber's note indicator",
    note_close: "closing transcriber's note indicator",
    mention: "dot locator for \"mention\"",
    dot_locator: "dot locator for \"use\"",
    struck: "line through previous item (cancellation, \"not\")",
    fraction_open: "general fraction open indicator",
    fraction_over: "general fraction line",
    fraction_close: "general fraction close indicator",
    radical_open: "open radical",
    radical_close: "close radical",
    arrow: "arrow indicator",
    bold_arrow: "bold arrow indicator",
    shape: "shape indicator",
    shape_filled: "filled",
    shape_own: "transcriber-defined shape indicator",
    enclosure: "physical enclosure indicator",
    shape_terminator: "shape terminator",
    integral: "integral sign",
    own_symbol: "first transcriber-defined print symbol",
    line: "line indicator, as in poetry",
    horizontal_line: "horizontal line mode indicator",
    guide_dots: "guide dots",
    other_code: "commences opening non-UEB passage indicator",
    other_code_end: "closing non-UEB passage indicator",
    other_code_word: "non-UEB word indicator",
    other_code_word_end: "non-UEB word terminator",
}

/// The cells of a short text in braille ASCII.
pub(super) fn cells(ascii: &str) -> Vec<Cell> {
    cell::from_ascii(ascii).unwrap_or_default()
}

fn push(list: &mut [Vec<Entry>], sign: &Sign, print: &'static str) {
    if let Some(first) = sign.cells.first() {
        list[usize::from(first.bits())].push(Entry {
            cells: sign.cells.clone(),
            sign: sign.id,
            print,
            class: sign.class,
        });
    }
}

fn by_cells(ascii: &str, class: impl Fn(Class) -> bool) -> Option<SignId> {
    register::by_cells(&cells(ascii)).find(|sign| class(sign.class)).map(|sign| sign.id)
}

impl Tables {
    fn make() -> Tables {
        let lists = || vec![Vec::new(); 64];
        let face = |class: Class| matches!(class, Class::Indicator | Class::Terminator);
        let extents = [Extent::Symbol, Extent::Word, Extent::Passage, Extent::End];
        let mut t = Tables {
            letters: [None; 64],
            groups: [None; 64],
            words: [None; 64],
            digits: [None; 64],
            spaced_digits: [None; 64],
            graphic: lists(),
            initial: lists(),
            last: lists(),
            short: lists(),
            modifiers: lists(),
            typeforms: ['.', '^', '_', '@']
                .map(|prefix| extents.map(|extent| by_cells(&format!("{prefix}{}", extent.root()), face))),
            own_typeforms: Vec::new(),
            keys: Keys::make(),
        };
        for sign in register::signs() {
            let Some(first) = sign.cells.first() else { continue };
            let at = usize::from(first.bits());
            let one = sign.cells.len() == 1;
            match sign.class {
                Class::Letter if one => t.letters[at] = sign.print.chars().next().map(|c| (c, sign.id)),
                Class::Digit if one => t.digits[at] = Some(sign.id),
                Class::Digit => {
                    if let Some(digit) = sign.cells.get(1) {
                        t.spaced_digits[usize::from(digit.bits())] = Some(sign.id);
                    }
                }
                Class::StrongGroupsign | Class::StrongContraction => {
                    t.groups[at] = Some((sign.print, sign.id))
                }
                Class::LowerGroupsign if matches!(sign.print, "en" | "in") => {
                    t.groups[at] = Some((sign.print, sign.id));
                }
                Class::AlphabeticWordsign | Class::StrongWordsign | Class::LowerWordsign => {
                    t.words[at] = Some((sign.print, sign.id));
                }
                Class::InitialLetterContraction => push(&mut t.initial, sign, sign.print),
                Class::FinalLetterGroupsign => push(&mut t.last, sign, sign.print),
                Class::Shortform => push(&mut t.short, sign, sign.print),
                Class::Modifier => {
                    if let Some(mark) = sign.print.chars().find(|c| ('\u{300}'..='\u{36f}').contains(c)) {
                        let text: &'static str = combining(mark);
                        push(&mut t.modifiers, sign, text);
                    }
                }
                Class::Indicator | Class::Terminator if sign.section == "9.5" && sign.cells.len() == 3 => {
                    t.own_typeforms.push(Entry {
                        cells: sign.cells.clone(),
                        sign: sign.id,
                        print: "",
                        class: sign.class,
                    });
                }
                _ => {}
            }
            t.add_graphic(sign, *first);
        }
        for list in t.graphic.iter_mut().chain(&mut t.short).chain(&mut t.modifiers) {
            crate::order::sort_by_key(list, |e| std::cmp::Reverse(e.cells.len()));
        }
        t
    }

    /// Signs of several cells that stand for print wherever they are; what print has for one that a transcriber
    /// defines, or for a mark of tone, is told elsewhere (3.26, 15.2.2): it has no print here.
    fn add_graphic(&mut self, sign: &Sign, first: Cell) {
        let own =
            matches!(sign.class, Class::Symbol) && sign.section == "3.26" && !sign.key.starts_with("first");
        let tone = sign.section == "15.2" || sign.section == "15.3";
        let plain = matches!(sign.class, Class::Punctuation | Class::Symbol | Class::Greek | Class::Letter)
            && !sign.print.is_empty();
        if sign.cells.len() == 1
            || !first.is_prefix()
            || !(own || tone || plain || sign.key.starts_with("multi-line"))
        {
            return;
        }
        let print = match sign.key {
            "long dash" | "dash" => "—",
            "Greek sigma" => "σ",
            "multi-line opening round parenthesis" => "(",
            "multi-line closing round parenthesis" => ")",
            "multi-line opening square bracket" => "[",
            "multi-line closing square bracket" => "]",
            "multi-line opening curly bracket" => "{",
            "multi-line closing curly bracket" => "}",
            "multi-line vertical bar" => "|",
            _ => sign.print,
        };
        if !self.graphic[usize::from(first.bits())].iter().any(|e| e.cells == sign.cells) {
            push(&mut self.graphic, sign, print);
        }
    }
}

/// The marks that the register's modifiers put on a letter (4.2).
fn combining(mark: char) -> &'static str {
    match mark {
        '\u{300}' => "\u{300}",
        '\u{301}' => "\u{301}",
        '\u{302}' => "\u{302}",
        '\u{303}' => "\u{303}",
        '\u{304}' => "\u{304}",
        '\u{306}' => "\u{306}",
        '\u{308}' => "\u{308}",
        '\u{30a}' => "\u{30a}",
        '\u{30c}' => "\u{30c}",
        '\u{327}' => "\u{327}",
        '\u{336}' => "\u{336}",
        '\u{338}' => "\u{338}",
        _ => "",
    }
}

/// The tables.
pub(super) fn tables() -> &'static Tables {
    static TABLES: OnceLock<Tables> = OnceLock::new();
    TABLES.get_or_init(Tables::make)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sign_that_the_reader_names_is_in_the_register() {
        let t = tables();
        for (key, sign) in t.keys.all() {
            assert!(sign.is_some(), "{key}");
        }
        assert!(t.typeforms.iter().flatten().all(Option::is_some));
        assert_eq!(t.own_typeforms.len(), 20);
        assert_eq!(t.digits.iter().flatten().count(), 10);
        assert_eq!(t.spaced_digits.iter().flatten().count(), 10);
    }
}
