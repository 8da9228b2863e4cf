//! The rules of layout and of the check: what each asks for, and where it is from.
//!
//! *Braille Formats: Principles of Print-to-Braille Transcription*, 2016, Braille Authority of North America, is not at
//! hand: what is used of it is from memory, and so are the sections that are named. Houses and courses differ: each rule can be switched off.

/// A rule of layout.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rule {
    /// Its number.
    pub number: u8,
    /// Its name.
    pub key: &'static str,
    /// What it asks for.
    pub says: &'static str,
    /// Where it is from.
    pub source: &'static str,
}

/// From memory, in several sections or in none that is sure.
const FORMATS: &str = "Braille Formats 2016, from memory";
/// From memory, as the sections are.
const PAGES: &str = "Braille Formats 2016, section 1, from memory";
const VOLUMES: &str = "Braille Formats 2016, section 2, from memory";
const NOTES_OF_OURS: &str = "Braille Formats 2016, section 3, from memory";
const HEADINGS: &str = "Braille Formats 2016, section 4, from memory";
const BOXES: &str = "Braille Formats 2016, section 7, from memory";
const LISTS: &str = "Braille Formats 2016, sections 1 and 8, from memory";
const DISPLAYED: &str = "Braille Formats 2016, section 9, from memory";
const TABLES: &str = "Braille Formats 2016, section 11, from memory";
const VERSE: &str = "Braille Formats 2016, section 13, from memory";
const PLAYS: &str = "Braille Formats 2016, section 14, from memory";
const NOTES: &str = "Braille Formats 2016, section 16, from memory";
/// Common practice.
const PRACTICE: &str = "common practice";
/// The standard.
const UEB: &str = "The Rules of UEB 2013";

const fn rule(number: u8, key: &'static str, says: &'static str, source: &'static str) -> Rule {
    Rule { number, key, says, source }
}

/// The rules, in the order they are told.
pub const RULES: [Rule; 34] = [
    rule(1, "characters", "Every character is one of the 64 cells; no tabs.", PRACTICE),
    rule(2, "line-length", "No line is longer than the sheet.", PAGES),
    rule(3, "page-length", "No page has more lines than the sheet.", PAGES),
    rule(4, "trailing-blanks", "No line ends in blank cells.", PRACTICE),
    rule(5, "blank-lines", "Blank lines stand where they belong, nowhere more than one.", FORMATS),
    rule(
        6,
        "page-number",
        "Every page has its braille page number at the right end of the last line.",
        PAGES,
    ),
    rule(7, "page-number-order", "The page numbers begin with 1 and follow one another.", PAGES),
    rule(8, "heading", "Headings stand at their place.", HEADINGS),
    rule(9, "heading-at-foot", "No heading is left at the foot of a page.", HEADINGS),
    rule(10, "paragraph", "Paragraphs are 3-1, lists 1-3, nested lists by their levels.", LISTS),
    rule(11, "indicator-at-line-end", "No line ends in a capital or numeric indicator.", UEB),
    rule(12, "running-head", "The running head stands on every page but the title page, centred.", PAGES),
    rule(
        13,
        "head-gap",
        "No blank line parts the running head from the text, unless a heading asks for it.",
        PAGES,
    ),
    rule(
        14,
        "print-page",
        "The numbers of the print pages stand at their places and follow one another.",
        PAGES,
    ),
    rule(
        15,
        "page-change",
        "A change of the print page is a line of dots 3-6 up to the new number, which has no letter.",
        PAGES,
    ),
    rule(
        16,
        "page-short",
        "Pages are filled, the last line too, unless what follows may not be parted.",
        PAGES,
    ),
    rule(17, "division", "No word is divided over two pages.", PAGES),
    rule(18, "verse", "Lines of verse begin by their level and run over two cells past the deepest.", VERSE),
    rule(19, "play", "Speeches are 1-3, stage directions by themselves stand at cell 7.", PLAYS),
    rule(20, "letter", "The opening of a letter is 1-3 line by line, its close 5-7.", PRACTICE),
    rule(
        21,
        "quotation",
        "Displayed quotations are 5-3, whom they are from four cells past that.",
        DISPLAYED,
    ),
    rule(
        22,
        "break",
        "A break in context is three asterisks in the middle, with blank lines around it.",
        FORMATS,
    ),
    rule(23, "box", "A box stands between lines of dots 2-3-5-6 and dots 1-2-4-5.", BOXES),
    rule(24, "notes", "Notes stand below a line of twelve dots 2-5, each 1-3.", NOTES),
    rule(25, "contents", "Lines of the contents end in guide dots and the page.", VOLUMES),
    rule(
        26,
        "table",
        "Columns begin below one another, under their headings and a line, with guide dots.",
        TABLES,
    ),
    rule(
        27,
        "transcribers-note",
        "Transcriber’s notes are 7-5, between their indicators (3.27).",
        NOTES_OF_OURS,
    ),
    rule(28, "line-numbers", "Line numbers of verse stand at the right end.", PRACTICE),
    rule(29, "end-of-volume", "The end of a volume is said on its last page.", VOLUMES),
    rule(30, "title-page", "The title page is there, complete and true to the pages.", VOLUMES),
    rule(31, "title-page-print", "The print copy of the title page lies in front of it.", PRACTICE),
    rule(
        32,
        "special-symbols",
        "Signs that a reader may not know are listed on a special symbols page, each behind its dot locator.",
        VOLUMES,
    ),
    rule(33, "not-set", "All of the print can be set.", PRACTICE),
    rule(34, "print", "The braille says what the print says.", UEB),
];

/// The rule of this number or name.
pub fn by_name(name: &str) -> Option<&'static Rule> {
    let number = name.parse().ok();
    RULES.iter().find(|rule| Some(rule.number) == number || rule.key == name)
}

/// The rule of this name.
pub fn by_key(key: &str) -> Option<&'static Rule> {
    RULES.iter().find(|rule| rule.key == key)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rules_are_numbered_in_their_order_and_have_names_of_their_own() {
        for (at, rule) in RULES.iter().enumerate() {
            assert_eq!(usize::from(rule.number), at + 1);
            assert_eq!(by_key(rule.key), Some(rule));
            assert_eq!(by_name(&rule.number.to_string()), Some(rule));
            assert_eq!(by_name(rule.key), Some(rule));
            assert!(rule.says.ends_with('.') && !rule.source.is_empty());
        }
    }
}
