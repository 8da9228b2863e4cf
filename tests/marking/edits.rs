//! Mistakes as plain cell edits on right braille, each with its place and its kind. Nothing here comes from the
//! crate's own planting: which letters a contraction has, which signs were dropped (1.3) and what an indicator is
//! stand below as the standard gives them; the kind is decided by the order of the kinds (indicators and spacing,
//! then other signs for the same print, then shapes).

use std::ops::Range;

use cellwright::cell::{self, Cell};
use cellwright::marking::Kind;
use cellwright::ueb::{Class, Explanation, register};

/// A small generator of numbers (a linear congruence, common practice).
pub struct Numbers(pub u64);

impl Numbers {
    pub fn below(&mut self, count: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % count as u64) as usize
    }
}

/// One edit of a run of cells.
#[derive(Clone, Debug)]
pub struct Edit {
    /// The kind that the order of kinds gives it.
    pub kind: Kind,
    /// The right cells that are replaced.
    pub cells: Range<usize>,
    /// What stands there instead.
    pub by: Vec<Cell>,
}

/// What can be done.
pub const WAYS: [&str; 35] = [
    "mirrored",
    "shifted",
    "dot more",
    "dot less",
    "another cell",
    "numeric forgotten",
    "capital forgotten",
    "grade 1 forgotten",
    "typeform forgotten",
    "terminator forgotten",
    "capital too many",
    "capital word too many",
    "numeric too many",
    "grade 1 too many",
    "typeform too many",
    "terminator too many",
    "indicator exchanged",
    "spelled out",
    "contracted where barred",
    "another contraction",
    "prefix lost",
    "another prefix",
    "dropped contraction",
    "dropped joining",
    "dropped punctuation",
    "blank forgotten",
    "blank in a word",
    "two blanks",
    "sign left out",
    "sign twice",
    "cell put in",
    "word left out",
    "word twice",
    "neighbours exchanged",
    "wrong two-cell sign",
];

/// Contractions that can stand inside words, by their cells (sections 10.3, 10.4, 10.6, 10.7 and 10.8).
const GROUPS: [(&str, &str); 45] = [
    ("and", "&"),
    ("for", "="),
    ("of", "("),
    ("the", "!"),
    ("with", ")"),
    ("ch", "*"),
    ("gh", "<"),
    ("sh", "%"),
    ("th", "?"),
    ("wh", ":"),
    ("ed", "$"),
    ("er", "]"),
    ("ou", "\\"),
    ("ow", "["),
    ("st", "/"),
    ("ing", "+"),
    ("ar", ">"),
    ("ea", "1"),
    ("bb", "2"),
    ("cc", "3"),
    ("ff", "6"),
    ("gg", "7"),
    ("en", "5"),
    ("in", "9"),
    ("ound", ".d"),
    ("ance", ".e"),
    ("sion", ".n"),
    ("less", ".s"),
    ("ount", ".t"),
    ("ence", ";e"),
    ("ong", ";g"),
    ("ful", ";l"),
    ("tion", ";n"),
    ("ness", ";s"),
    ("ment", ";t"),
    ("ity", ";y"),
    ("day", "\"d"),
    ("ever", "\"e"),
    ("here", "\"h"),
    ("one", "\"o"),
    ("part", "\"p"),
    ("some", "\"s"),
    ("time", "\"t"),
    ("had", "_h"),
    ("name", "\"n"),
];

/// Other contractions of the same letters (the same sections).
const OTHERS: [(&str, &str); 22] = [
    ("the", "?e"),
    ("ing", "9g"),
    ("ment", "m5t"),
    ("ence", "5ce"),
    ("ound", "\\nd"),
    ("ount", "\\nt"),
    ("ever", "ev]"),
    ("mother", "mo!r"),
    ("father", "fa!r"),
    ("there", "!re"),
    ("these", "!se"),
    ("those", "?ose"),
    ("part", "p>t"),
    ("ought", "\\<t"),
    ("their", "!ir"),
    ("with", "wi?"),
    ("where", "wh]e"),
    ("child", "*ild"),
    ("still", "/ill"),
    ("shall", "%all"),
    ("which", ":i*"),
    ("through", "?r\\<"),
];

fn ascii(text: &str) -> Vec<Cell> {
    cell::from_ascii(text).unwrap()
}

/// Whether the cells are an indicator or terminator of grade 1, numbers, capitals or typeforms (sections 5, 6, 8, 9).
fn is_mark(cells: &[Cell]) -> bool {
    let text = cell::to_ascii(cells);
    matches!(text.as_str(), "," | ",," | ",,," | ",'" | ";" | ";;" | ";;;" | ";'" | "#" | "##" | "#'")
        || matches!(text.as_bytes(), [b'.' | b'^' | b'_' | b'@', b'1' | b'2' | b'7' | b'\''])
}

struct Sign<'a> {
    cells: Range<usize>,
    print: String,
    class: Class,
    own: &'a [Cell],
}

/// One edit of the given way at a place drawn by `numbers`; nothing where it can't be made there.
pub fn edit(print: &str, right: &Explanation, way: &'static str, numbers: &mut Numbers) -> Option<Edit> {
    let chars: Vec<char> = print.chars().collect();
    let cells = &right.cells;
    let signs: Vec<Sign> = right
        .signs
        .iter()
        .map(|used| Sign {
            cells: used.cells.clone(),
            print: chars[used.print.clone()].iter().collect(),
            class: register::get(used.sign).class,
            own: &cells[used.cells.clone()],
        })
        .collect();
    let chosen = numbers.below(signs.len());
    let sign = &signs[chosen];
    let mark = matches!(sign.class, Class::Indicator | Class::Terminator);
    let space = sign.class == Class::Space;
    let dashes = |at: usize| {
        let near = at.saturating_sub(2)..(at + 3).min(signs.len());
        signs[near].iter().any(|sign| ["—", "–", "-"].contains(&sign.print.as_str()))
    };
    let begins = chosen == 0 || signs[chosen - 1].class == Class::Space;
    let ends = chosen + 1 == signs.len() || signs[chosen + 1].class == Class::Space;
    let letterlike = sign.class == Class::Letter || sign.class.is_contraction();
    let done = |kind, cells, by| Some(Edit { kind, cells, by });
    let place = sign.cells.clone();
    let at = place.start + numbers.below(place.len());
    let cell = cells[at];
    // One cell in another's place: an indicator that becomes another is told by that, so is a prefix.
    let shaped = |kind: Kind, by: Cell| {
        if by == cell || by.is_blank() || cell.is_blank() {
            return None;
        }
        let mut own = sign.own.to_vec();
        own[at - place.start] = by;
        if mark && is_mark(&own) {
            return done(Kind::WrongIndicator, place.clone(), own);
        }
        if !mark && own.len() > 1 && at == place.start && cell.is_prefix() && by.is_prefix() {
            return done(Kind::LostPrefix, at..at + 1, vec![by]);
        }
        done(kind, at..at + 1, vec![by])
    };
    let dot = |more: bool, dot: usize| {
        let changed = Cell::from_bits(cell.bits() ^ (1 << dot)).unwrap();
        ((changed.bits() > cell.bits()) == more).then_some(changed)
    };
    let forgotten = |starts: &[&str], terminator: bool| {
        let text = cell::to_ascii(sign.own);
        let fits = starts.iter().any(|start| text.starts_with(start)) && text.ends_with('\'') == terminator;
        if mark && fits && is_mark(sign.own) {
            done(Kind::MissingIndicator, place.clone(), vec![])
        } else {
            None
        }
    };
    let word = |from: usize| {
        let to = (from..signs.len()).find(|&at| signs[at].class == Class::Space).unwrap_or(signs.len());
        signs[from].cells.start..signs[to - 1].cells.end
    };
    match way {
        "mirrored" => shaped(Kind::Mirrored, cell.mirror()),
        "shifted" => {
            let by = cell.shifted([1, -1, 2, -2][numbers.below(4)])?;
            shaped(if by == cell.mirror() { Kind::Mirrored } else { Kind::Shifted }, by)
        }
        "dot more" | "dot less" => {
            let by = dot(way == "dot more", numbers.below(6))?;
            let low = [-2, -1, 1, 2].iter().any(|rows| cell.shifted(*rows) == Some(by));
            let kind = if by == cell.mirror() {
                Kind::Mirrored
            } else if low {
                Kind::Shifted
            } else {
                Kind::DotSlip
            };
            shaped(kind, by)
        }
        "another cell" => {
            let by = Cell::from_bits(1 + numbers.below(63) as u8)?;
            let near = by == cell.mirror()
                || (by.bits() ^ cell.bits()).count_ones() < 2
                || [-2, -1, 1, 2].iter().any(|rows| cell.shifted(*rows) == Some(by));
            if near { None } else { shaped(Kind::WrongSign, by) }
        }
        "numeric forgotten" => forgotten(&["#"], false),
        "capital forgotten" => forgotten(&[","], false),
        "grade 1 forgotten" => forgotten(&[";"], false),
        "typeform forgotten" => forgotten(&[".", "^", "_", "@"], false),
        "terminator forgotten" => forgotten(&[",", ";", ".", "^", "_", "@"], true),
        "capital too many" | "capital word too many" | "typeform too many" if begins && letterlike => {
            let by = match way {
                "capital too many" => ",",
                "capital word too many" => ",,",
                _ => [".1", "^1", "_1", ".2"][numbers.below(4)],
            };
            // In a capitals passage, and before a capital, this would be another indicator.
            if right.cells.windows(2).any(|two| cell::to_ascii(two) == ",,") {
                return None;
            }
            done(Kind::ExtraIndicator, place.start..place.start, ascii(by))
        }
        "numeric too many" if begins && letterlike => {
            done(Kind::ExtraIndicator, place.start..place.start, ascii("#"))
        }
        // Before a word without contractions it would be allowed (5.10).
        "grade 1 too many" if begins && sign.class.is_contraction() => {
            done(Kind::ExtraIndicator, place.start..place.start, ascii([";", ";;"][numbers.below(2)]))
        }
        "terminator too many" if ends && letterlike => {
            done(Kind::ExtraIndicator, place.end..place.end, ascii([",'", ";'", ".'"][numbers.below(3)]))
        }
        "indicator exchanged" if mark => {
            let by = match cell::to_ascii(sign.own).as_str() {
                "," => [",,", ";", "#"][numbers.below(3)],
                ",," => [",", ",,,", ";;"][numbers.below(3)],
                ",,," => [",,", ","][numbers.below(2)],
                ";" => [";;", ",", "#"][numbers.below(3)],
                "#" => [";", ","][numbers.below(2)],
                ".1" => [".2", ".7", "^1"][numbers.below(3)],
                ".7" => [".1", "^7", "_7"][numbers.below(3)],
                ".2" => [".1", "^2"][numbers.below(2)],
                ",'" => [".'", ";'"][numbers.below(2)],
                ".'" => ["^'", ",'"][numbers.below(2)],
                _ => return None,
            };
            // Beside another indicator the two would be read as one.
            let marks =
                |at: Option<usize>| at.and_then(|at| signs.get(at)).is_some_and(|sign| is_mark(sign.own));
            if marks(chosen.checked_sub(1)) || marks(Some(chosen + 1)) {
                return None;
            }
            done(Kind::WrongIndicator, place, ascii(by))
        }
        "spelled out" if sign.class.is_contraction() => {
            let letters: String = sign.print.to_lowercase();
            let plain = !letters.is_empty() && letters.chars().all(|c| c.is_ascii_lowercase());
            // A word all in capitals may be said letter by letter (10.12.1); be, con and dis may be (10.6.4).
            let doubtful = ["be", "con", "dis"].contains(&letters.as_str())
                || sign.print.contains(char::is_uppercase)
                    && sign.print.len() > 1
                    && sign.print == sign.print.to_uppercase();
            if !plain || doubtful { None } else { done(Kind::MissedContraction, place, ascii(&letters)) }
        }
        "contracted where barred" => {
            let (letters, by) = GROUPS[numbers.below(GROUPS.len())];
            let length = letters.len();
            let all: Vec<_> = (0..signs.len().saturating_sub(length - 1))
                .filter(|&from| {
                    let own = &signs[from..from + length];
                    let text: String = own.iter().map(|sign| sign.print.to_lowercase()).collect();
                    text == letters && own.iter().all(|sign| sign.class == Class::Letter)
                })
                .collect();
            let from = *all.get(numbers.below(all.len().max(1)))?;
            // A word in capitals may be said letter by letter (10.12.1).
            if signs[from..from + length].iter().all(|sign| sign.print.chars().all(char::is_uppercase)) {
                return None;
            }
            done(
                Kind::BarredContraction,
                signs[from].cells.start..signs[from + length - 1].cells.end,
                ascii(by),
            )
        }
        "another contraction" => {
            let letters = sign.print.to_lowercase();
            let all: Vec<_> = OTHERS.iter().filter(|(of, _)| *of == letters).collect();
            let (_, by) = all.get(numbers.below(all.len().max(1)))?;
            if sign.class.is_contraction() { done(Kind::WrongContraction, place, ascii(by)) } else { None }
        }
        "prefix lost" if !mark && sign.own.len() > 1 && sign.own[0].is_prefix() => {
            // Pound and dollar would then be dropped signs (1.3.5).
            if ["£", "$"].contains(&sign.print.as_str()) {
                return None;
            }
            done(Kind::LostPrefix, place.start..place.start + 1, vec![])
        }
        "another prefix" if !mark && sign.own.len() > 1 && sign.own[0].is_prefix() => {
            let by = ascii(["@", "^", "_", "\"", ".", ";", ","][numbers.below(7)]);
            if by[0] == sign.own[0] { None } else { done(Kind::LostPrefix, place.start..place.start + 1, by) }
        }
        "dropped contraction" => {
            let olds = [
                ("dd", "dd", "4"),
                ("ble", "ble", "#"),
                ("com", "com", "-"),
                ("ation", "a;n", ",n"),
                ("ally", "ally", ",y"),
            ];
            let (_, now, old) = olds[numbers.below(5)];
            let now = ascii(now);
            let all: Vec<usize> = (0..cells.len())
                .filter(|&at| {
                    cells[at..].starts_with(&now)
                        && signs.iter().any(|sign| sign.cells.start == at && sign.class == Class::Letter)
                        && signs.iter().any(|sign| {
                            sign.cells.end == at + now.len() && !matches!(sign.class, Class::Digit)
                        })
                        && match old {
                            "-" => at == 0 || cells[at - 1].is_blank(),
                            _ => {
                                at > 0
                                    && !cells[at - 1].is_blank()
                                    && cells.get(at + now.len()).is_some_and(|c| old != "4" || !c.is_blank())
                            }
                        }
                })
                .collect();
            let at = *all.get(numbers.below(all.len().max(1)))?;
            done(Kind::OlderSign, at..at + now.len(), ascii(old))
        }
        "dropped joining" => {
            let olds = [("to ", "6"), ("by ", "0"), ("9to ", "96")];
            let (now, old) = olds[numbers.below(3)];
            let now = ascii(now);
            let all: Vec<usize> = (0..cells.len())
                .filter(|&at| {
                    cells[at..].starts_with(&now)
                        && (at == 0 || cells[at - 1].is_blank())
                        && at + now.len() < cells.len()
                })
                .collect();
            let at = *all.get(numbers.below(all.len().max(1)))?;
            done(Kind::OlderSign, at..at + now.len(), ascii(old))
        }
        "dropped punctuation" => {
            let old = match sign.print.as_str() {
                "(" | ")" => "7",
                "[" => ",7",
                "]" => "7'",
                "…" => "'''",
                "£" => "l",
                "$" => "4",
                "—" | "–" => "--",
                _ => return None,
            };
            done(Kind::OlderSign, place, ascii(old))
        }
        "blank forgotten" if space && chosen > 0 && !dashes(chosen) => {
            // To, by and into without their blank would be another code's joining.
            done(Kind::Spacing, place, vec![])
        }
        "blank in a word" if letterlike && !begins && !dashes(chosen) => {
            done(Kind::Spacing, place.start..place.start, vec![Cell::BLANK])
        }
        "two blanks" if space && chosen > 0 && !dashes(chosen) => {
            done(Kind::Spacing, place.end..place.end, vec![Cell::BLANK])
        }
        "sign left out" if !(mark || space || begins && ends) => {
            let kind = Kind::LeftOut;
            done(kind, place, vec![])
        }
        "sign twice" if !mark && !space && !dashes(chosen) => {
            done(Kind::Added, place.end..place.end, sign.own.to_vec())
        }
        "cell put in" if !space => {
            let by = Cell::from_bits(1 + numbers.below(63) as u8)?;
            let kind = if is_mark(&[by]) { Kind::ExtraIndicator } else { Kind::Added };
            let after_mark = chosen > 0 && is_mark(signs[chosen - 1].own);
            if by.is_prefix() || after_mark { None } else { done(kind, place.start..place.start, vec![by]) }
        }
        "word left out" if begins && !space && !dashes(chosen) => {
            let word = word(chosen);
            if word.end == cells.len() {
                return None;
            }
            done(Kind::LeftOut, word.start..word.end + 1, vec![])
        }
        "word twice" if begins && !space && !dashes(chosen) => {
            let word = word(chosen);
            let mut by = vec![Cell::BLANK];
            by.extend_from_slice(&cells[word.clone()]);
            done(Kind::Added, word.end..word.end, by)
        }
        "neighbours exchanged" if !mark && !space && chosen + 1 < signs.len() => {
            let next = &signs[chosen + 1];
            if next.class == Class::Space
                || matches!(next.class, Class::Indicator | Class::Terminator)
                || next.own == sign.own
            {
                return None;
            }
            done(Kind::WrongSign, place.start..next.cells.end, [next.own, sign.own].concat())
        }
        "wrong two-cell sign" if letterlike && sign.own.len() == 1 => {
            let (_, by) = GROUPS[24 + numbers.below(GROUPS.len() - 24)];
            let by = ascii(by);
            if by[1] == sign.own[0] { None } else { done(Kind::WrongSign, place, by) }
        }
        _ => None,
    }
}
