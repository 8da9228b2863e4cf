//! Tables of the reader, indexed by cells, made once from the register of signs.

use std::collections::{HashMap, HashSet};
use std::sync::OnceLock;

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
    pub words: [Option<(&'static str, SignId, Class)>; 64],
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
    /// Words of Appendix 1.
    pub listed: HashSet<&'static str>,
    /// Signs by key.
    keys: HashMap<&'static str, SignId>,
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

impl Tables {
    /// The sign with this key; the blank where the register has none.
    pub fn key(&self, key: &str) -> Option<SignId> {
        self.keys.get(key).copied()
    }

    fn make() -> Tables {
        let lists = || vec![Vec::new(); 64];
        let mut t = Tables {
            letters: [None; 64],
            groups: [None; 64],
            words: [None; 64],
            graphic: lists(),
            initial: lists(),
            last: lists(),
            short: lists(),
            modifiers: lists(),
            listed: include_str!("shortform_words.txt").lines().filter(|l| !l.starts_with('#')).collect(),
            keys: register::signs().iter().map(|s| (s.key, s.id)).collect(),
        };
        for sign in register::signs() {
            let Some(first) = sign.cells.first() else { continue };
            let at = usize::from(first.bits());
            let one = sign.cells.len() == 1;
            match sign.class {
                Class::Letter if one => t.letters[at] = sign.print.chars().next().map(|c| (c, sign.id)),
                Class::StrongGroupsign | Class::StrongContraction => {
                    t.groups[at] = Some((sign.print, sign.id))
                }
                Class::LowerGroupsign if matches!(sign.print, "en" | "in") => {
                    t.groups[at] = Some((sign.print, sign.id));
                }
                Class::AlphabeticWordsign | Class::StrongWordsign | Class::LowerWordsign => {
                    t.words[at] = Some((sign.print, sign.id, sign.class));
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
                Class::Punctuation | Class::Symbol | Class::Greek | Class::Letter if !one => {
                    let print = match sign.key {
                        "opening double quotation mark" => "“",
                        "closing double quotation mark" => "”",
                        "long dash" | "dash" => "—",
                        "ellipsis" => "",
                        _ => sign.print,
                    };
                    let print = if sign.key == "Greek sigma" { "σ" } else { print };
                    let known = t.graphic[at].iter().any(|e| e.cells == sign.cells);
                    if !print.is_empty() && first.is_prefix() && !known {
                        push(&mut t.graphic, sign, print);
                    }
                }
                _ => {}
            }
        }
        for list in t.graphic.iter_mut().chain(&mut t.short).chain(&mut t.modifiers) {
            list.sort_by_key(|e| std::cmp::Reverse(e.cells.len()));
        }
        t
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
