//! What a grader marked, entered as a list: a slip a line, page, line and what it was.

use crate::marking::Kind;
use crate::marking::plant::KINDS;
use crate::ueb::register;

/// A slip as a line of the list tells it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Listed {
    /// The page, from 1.
    pub page: u32,
    /// Its line, from 1.
    pub line: u32,
    /// Its kind, where the line names one.
    pub kind: Option<Kind>,
    /// The key of the sign at fault; empty where the line names none.
    pub sign: String,
    /// All other words.
    pub note: String,
}

/// What was read of a list.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct List {
    /// The slips, in the order of the list.
    pub slips: Vec<Listed>,
    /// Lines that begin with no page and line, as they were: they stay in the field.
    pub left: Vec<String>,
}

/// No page or line has a greater number.
const MOST: u32 = 9999;
/// Characters of a note that are kept.
const NOTE: usize = 200;

/// Reads a list. A line is `page, line, kind, sign, words`: the first two are numbers, perhaps with "page" and "line" (or "p."
/// and "l.") before them; the others, parted by commas, semicolons or tabs, may come in any order or not at all. A kind is
/// one of the page's names for it.
pub fn read(text: &str) -> List {
    let mut list = List::default();
    for line in text.lines().filter(|line| !line.trim().is_empty()) {
        match slip(line) {
            Some(slip) => list.slips.push(slip),
            None => list.left.push(line.trim().to_owned()),
        }
    }
    list
}

fn slip(text: &str) -> Option<Listed> {
    let (page, rest) = number(text, &["page", "p"])?;
    let (line, rest) = number(rest, &["line", "l"])?;
    let mut slip = Listed { page, line, kind: None, sign: String::new(), note: String::new() };
    let mut words: Vec<&str> = Vec::new();
    for part in rest.split([',', ';', '\t']).map(|part| part.trim_matches(apart)) {
        // "indicator missing at numeric indicator" names both.
        let (before, behind) = part.split_once(" at ").unwrap_or((part, ""));
        let both = kind(before).is_some() && register::by_key(behind.trim()).is_some();
        for part in if both { [before, behind.trim()] } else { [part, ""] } {
            match kind(part) {
                Some(kind) if slip.kind.is_none() => slip.kind = Some(kind),
                _ if slip.sign.is_empty() && register::by_key(part).is_some() => {
                    part.clone_into(&mut slip.sign)
                }
                _ if part.is_empty() => {}
                _ => words.push(part),
            }
        }
    }
    slip.note = words.join(", ").chars().take(NOTE).collect();
    Some(slip)
}

/// Whether a character only parts what stands before and behind it.
fn apart(sign: char) -> bool {
    sign.is_whitespace() || matches!(sign, ',' | ';' | ':' | '.' | '/' | '·' | '-' | '–' | '—')
}

/// A number from 1 at the beginning, perhaps behind one of these words, and what follows it.
fn number<'t>(text: &'t str, names: &[&str]) -> Option<(u32, &'t str)> {
    let text = text.trim_start_matches(apart);
    let word = text.split(|sign: char| !sign.is_alphabetic()).next().unwrap_or_default();
    let named = names.iter().any(|name| name.eq_ignore_ascii_case(word));
    let text = if named { text[word.len()..].trim_start_matches(apart) } else { text };
    let end = text.find(|sign: char| !sign.is_ascii_digit()).unwrap_or(text.len());
    let (digits, rest) = text.split_at(end);
    // "3rd" is no number by itself.
    if rest.starts_with(char::is_alphabetic) {
        return None;
    }
    let number = digits.parse().ok().filter(|number| (1..=MOST).contains(number))?;
    Some((number, rest))
}

fn kind(words: &str) -> Option<Kind> {
    let same =
        |kind: &&Kind| kind.name().eq_ignore_ascii_case(words) || kind.words().eq_ignore_ascii_case(words);
    KINDS.iter().find(same).copied()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn listed(page: u32, line: u32, kind: Option<Kind>, sign: &str, note: &str) -> Listed {
        Listed { page, line, kind, sign: sign.to_owned(), note: note.to_owned() }
    }

    #[test]
    fn a_slip_a_line_in_the_words_of_the_page_or_in_others() {
        let list = read(
            "3, 12, indicator missing, numeric indicator\n\npage 4 line 2: Mirrored; letter e\np. 4, l. 7 contraction missed\n5\t1\tthe word was divided badly\r\n7/3 missing-indicator at numeric indicator, before 12\n",
        );
        assert_eq!(
            list.slips,
            [
                listed(3, 12, Some(Kind::MissingIndicator), "numeric indicator", ""),
                listed(4, 2, Some(Kind::Mirrored), "letter e", ""),
                listed(4, 7, Some(Kind::MissedContraction), "", ""),
                listed(5, 1, None, "", "the word was divided badly"),
                listed(7, 3, Some(Kind::MissingIndicator), "numeric indicator", "before 12"),
            ]
        );
        assert_eq!(list.left, Vec::<String>::new());
    }

    #[test]
    fn what_names_no_place_stays() {
        let list = read("Dear student,\n2, 0, mirrored\n3, twelve\n2, 4\n99999999999, 1\n3rd page, line 2\n");
        assert_eq!(list.slips, [listed(2, 4, None, "", "")]);
        assert_eq!(list.left.len(), 5);
        assert_eq!(read(" \n"), List::default());
    }

    #[test]
    fn a_second_kind_is_a_word_and_a_note_has_its_bound() {
        let list = read(&format!("1, 1, mirrored, spacing\n1, 2, {}\n", "x".repeat(500)));
        assert_eq!(list.slips[0], listed(1, 1, Some(Kind::Mirrored), "", "spacing"));
        assert_eq!(list.slips[1].note.len(), NOTE);
    }
}
