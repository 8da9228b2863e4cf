//! Which sign each character of print takes, where one sign stands for one character (sections 3, 4, 6 and 7).

use std::collections::HashMap;
use std::sync::OnceLock;

use super::super::composed::SHOWN;
use super::super::register::{self, Class, SignId};
use super::known::id;
use super::symbols::Kind;

/// The sign of a combining mark (4.2).
pub(crate) fn modifier(c: char) -> Option<SignId> {
    static MODIFIERS: OnceLock<Vec<(char, SignId)>> = OnceLock::new();
    let find = |all: &[(char, SignId)], c: char| all.iter().rfind(|one| one.0 == c).map(|one| one.1);
    let all = MODIFIERS.get_or_init(|| {
        let mut all: Vec<(char, SignId)> = register::signs()
            .iter()
            .filter(|s| s.class == Class::Modifier)
            .filter_map(|s| Some((s.print.chars().last()?, s.id)))
            .collect();
        for (alias, of) in [
            ('\u{323}', "dot under previous item"),
            ('\u{307}', "dot over previous item"),
            ('\u{335}', "modifier horizontal stroke"),
            ('\u{337}', "modifier solidus"),
            ('\u{328}', "modifier cedilla"),
            ('\u{326}', "modifier cedilla"),
            ('\u{30b}', "modifier dieresis"),
        ] {
            if find(&all, alias).is_none() {
                all.push((alias, id(of)));
            }
        }
        all
    });
    find(all, c)
}

/// Characters whose kind matters to the rules of placement, or whose sign goes by another character.
const KINDS: &[(char, Kind, &str)] = &[
    ('(', Kind::Open, "opening parenthesis"),
    ('[', Kind::Open, "opening square bracket"),
    ('{', Kind::Open, "opening curly bracket"),
    (')', Kind::Close, "closing parenthesis"),
    (']', Kind::Close, "closing square bracket"),
    ('}', Kind::Close, "closing curly bracket"),
    (',', Kind::Stop, "comma"),
    (';', Kind::Stop, "semicolon"),
    (':', Kind::Stop, "colon"),
    ('∶', Kind::Stop, "ratio"),
    ('.', Kind::Stop, "full stop"),
    ('!', Kind::Stop, "exclamation mark"),
    ('?', Kind::Stop, "question mark"),
    ('…', Kind::Stop, "ellipsis"),
    ('-', Kind::Hyphen, "hyphen"),
    ('\u{2010}', Kind::Hyphen, "hyphen"),
    ('\u{2011}', Kind::Hyphen, "hyphen"),
    ('–', Kind::Dash, "dash"),
    ('—', Kind::Dash, "dash"),
    ('\u{2012}', Kind::Dash, "dash"),
    ('\u{2015}', Kind::Dash, "long dash"),
    ('⸺', Kind::Dash, "long dash"),
    ('⸻', Kind::Dash, "long dash"),
    ('"', Kind::Quote, "nondirectional double quotation mark"),
    ('\'', Kind::Quote, "apostrophe"),
    ('’', Kind::Quote, "apostrophe"),
    ('\u{2bc}', Kind::Apostrophe, "apostrophe"),
    ('‘', Kind::Quote, "opening single quotation mark"),
    ('‚', Kind::Quote, "opening single quotation mark"),
    ('“', Kind::Quote, "opening double quotation mark"),
    ('”', Kind::Quote, "closing double quotation mark"),
    ('„', Kind::Quote, "opening double quotation mark"),
    ('«', Kind::Quote, "opening Italian quotation mark"),
    ('»', Kind::Quote, "closing Italian quotation mark"),
    ('<', Kind::Other, "opening angle bracket"),
    ('>', Kind::Other, "closing angle bracket"),
    ('|', Kind::Other, "vertical bar in mathematics"),
    ('\u{2044}', Kind::FractionLine, "simple numeric fraction line"),
    ('µ', Kind::Letter, "Greek mu"),
    ('ς', Kind::Letter, "Greek sigma"),
    ('·', Kind::Other, "multiplication dot"),
    // The long s of old print.
    ('ſ', Kind::Letter, "letter s"),
    // Signs that stand after what they are over or under.
    ('\u{330}', Kind::Other, "tilde under previous item"),
    ('\u{32d}', Kind::Other, "hat under previous item"),
    ('\u{332}', Kind::Other, "bar under previous item"),
    ('\u{305}', Kind::Other, "bar over previous item"),
    ('\u{20d7}', Kind::Other, "simple right-pointing arrow over previous item"),
];

/// The characters with a sign of their own, and of which kind they are.
pub(crate) fn signs() -> &'static HashMap<char, (Kind, SignId)> {
    static SIGNS: OnceLock<HashMap<char, (Kind, SignId)>> = OnceLock::new();
    SIGNS.get_or_init(|| {
        let mut map = HashMap::new();
        for sign in register::signs() {
            let kind = match sign.class {
                Class::Punctuation | Class::Symbol | Class::Technical => Kind::Other,
                Class::Letter | Class::Greek => Kind::Letter,
                _ => continue,
            };
            for c in sign.print.chars().filter(|&c| c != '◌') {
                if c.is_ascii_alphanumeric() || ('\u{300}'..'\u{370}').contains(&c) {
                    continue;
                }
                if sign.print.chars().filter(|&c| c != '◌').count() > 1 && sign.class != Class::Greek {
                    continue;
                }
                map.entry(c).or_insert((kind, sign.id));
            }
        }
        for &(c, kind, key) in KINDS {
            map.insert(c, (kind, id(key)));
        }
        // Other bullets (3.5).
        for c in ['‣', '∙', '⁃'] {
            map.insert(c, (Kind::Other, id("bullet")));
        }
        // Modifiers shown without a letter (4.2.6).
        for (mark, shown) in SHOWN {
            if let Some(sign) = modifier(mark) {
                map.insert(shown, (Kind::Other, sign));
            }
        }
        map
    })
}
