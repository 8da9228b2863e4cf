//! Abbreviations whose letters are said one by one (10.1.3, 10.12.1): those that the text itself explains, those of a list,
//! and those that cannot be said as a word.

use std::ops::Range;
use std::sync::OnceLock;

use super::symbols::{Kind, Symbol, edge};

/// An abbreviation of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Listed {
    letters: &'static str,
    /// The same letters are a word too.
    pub word: bool,
}

fn list() -> &'static [Listed] {
    static LIST: OnceLock<Vec<Listed>> = OnceLock::new();
    LIST.get_or_init(|| {
        let rows = include_str!("acronyms.txt").lines().filter(|line| !line.starts_with('#'));
        rows.filter_map(|row| {
            let mut columns = row.split('\t');
            let (letters, word) = (columns.next()?, columns.next()?);
            Some(Listed { letters, word: word == "word" })
        })
        .collect()
    })
}

/// The abbreviation of the list that these letters are.
pub(crate) fn listed(letters: &[Symbol]) -> Option<Listed> {
    let few = (2..=4).contains(&letters.len());
    if !few || letters[0].capital == 1 || letters.iter().any(|s| !s.upper || !s.plain()) {
        return None;
    }
    list().iter().find(|one| one.letters.chars().eq(letters.iter().map(|s| s.ch))).copied()
}

/// Whether these letters are an abbreviation of the list whose letters are said one by one here: where they are a word too,
/// not among other words in capitals.
pub(crate) fn listed_singly(symbols: &[Symbol], letters: Range<usize>) -> bool {
    listed(&symbols[letters.clone()]).is_some_and(|one| {
        let begins = letters.start == 0 || symbols[letters.start - 1].kind != Kind::Letter;
        let ends = symbols.get(letters.end).is_none_or(|s| s.kind != Kind::Letter || !s.upper);
        begins
            && ends
            && (!one.word || symbols[letters.start].capital == 2 && !among_capitals(symbols, &letters))
    })
}

/// Whether a text in capitals may hold an abbreviation of the list that is a word too.
pub(crate) fn may_be_word(text: &[u8]) -> bool {
    text.len() <= LONGEST
        && text.split(|b| !b.is_ascii_alphabetic()).any(|part| {
            list().iter().any(|one| one.word && one.letters.as_bytes().eq_ignore_ascii_case(part))
        })
}

/// Whether letters stand beside others in capitals, in the same sentence, or are cried out.
fn among_capitals(symbols: &[Symbol], letters: &Range<usize>) -> bool {
    let before = || symbols[..letters.start].iter().rev();
    let after = || symbols[letters.end..].iter();
    let goes_on = matches!(symbols.get(letters.end..letters.end + 2), Some([mark, letter])
        if mark.kind == Kind::Apostrophe && letter.kind == Kind::Letter && letter.upper);
    let cried =
        symbols.get(letters.end).is_some_and(|s| s.ch == '!') && after().all(|s| s.kind != Kind::Letter);
    // What is partly in small letters, such as US-led, is no shouting.
    let own =
        before().take_while(|s| s.kind != Kind::Space).chain(after().take_while(|s| s.kind != Kind::Space));
    if own.take(LONGEST).any(|s| s.kind == Kind::Letter && !s.upper) {
        return false;
    }
    goes_on
        || cried && before().all(|s| s.kind != Kind::Letter)
        || capitals_beside(before())
        || capitals_beside(after())
}

/// Whether the next symbols-sequence is in capitals, and no end of a sentence stands in between.
fn capitals_beside<'s>(symbols: impl Iterator<Item = &'s Symbol>) -> bool {
    let mut next = symbols.skip_while(|s| !edge(s) && s.kind != Kind::Letter && !ends_sentence(s)).peekable();
    if next.peek().is_none_or(|s| s.kind != Kind::Space) {
        return false;
    }
    let mut next = next
        .skip_while(|s| s.kind == Kind::Space)
        .take_while(|s| s.kind != Kind::Space)
        .take(LONGEST)
        .peekable();
    if next.peek().is_none_or(|s| ends_sentence(s)) {
        return false;
    }
    let mut letters = next.filter(|s| s.kind == Kind::Letter).peekable();
    letters.peek().is_some() && letters.all(|s| s.upper)
}

fn ends_sentence(s: &Symbol) -> bool {
    matches!(s.ch, '.' | '!' | '?' | ':') && s.kind == Kind::Stop
}

/// The acronyms of a text in lower case, sorted: capitals beside their own words in parentheses, either way round,
/// "IT (Information Technology)", "Information Technology (IT)". Those that could be said as a word are left out.
pub(crate) fn explained(text: &str) -> Vec<String> {
    let mut found = Vec::new();
    for (at, _) in text.match_indices('(') {
        let inside = &text[at + 1..];
        // An explanation is a few words long.
        let mut end = inside.len().min(LONGEST);
        while !inside.is_char_boundary(end) {
            end -= 1;
        }
        let Some(end) = inside[..end].find(')') else { continue };
        let inside = &inside[..end];
        let mut start = at.saturating_sub(LONGEST);
        while !text.is_char_boundary(start) {
            start += 1;
        }
        let before = text[start..at].trim_end_matches(' ');
        let last = before.rsplit(|c: char| !c.is_alphanumeric()).next().unwrap_or("");
        if is_acronym(last) && initials(inside.split(between)).any(|letters| letters == last) {
            found.push(last.to_ascii_lowercase());
        } else if is_acronym(inside) {
            let words: Vec<&str> = before.split(between).filter(|word| !word.is_empty()).collect();
            let most = words.len().min(inside.len() + 3);
            let named = (2..=most).any(|count| {
                initials(words[words.len() - count..].iter().copied()).any(|letters| letters == inside)
            });
            if named {
                found.push(inside.to_ascii_lowercase());
            }
        }
    }
    crate::order::sort(&mut found);
    found.dedup();
    found
}

/// How far an explanation is looked for, in bytes.
const LONGEST: usize = 120;

fn between(c: char) -> bool {
    matches!(c, ' ' | '-' | '\n' | ',')
}

/// Two or three capitals, or up to six that have no vowel among them: what cannot well be said as a word.
fn is_acronym(word: &str) -> bool {
    let vowel = word.bytes().any(|b| b"AEIOUY".contains(&b));
    word.bytes().all(|b| b.is_ascii_uppercase()) && (2..=if vowel { 3 } else { 6 }).contains(&word.len())
}

/// The first letters of words in capitals: of all of them, and of those that are not small.
fn initials<'w>(words: impl Iterator<Item = &'w str> + Clone) -> impl Iterator<Item = String> {
    let first = |word: &str| word.chars().find(|c| c.is_alphanumeric()).map(|c| c.to_ascii_uppercase());
    let small =
        |word: &&str| !matches!(*word, "of" | "and" | "the" | "for" | "in" | "a" | "an" | "to" | "on");
    let all: String = words.clone().filter_map(first).collect();
    let main: String = words.filter(small).filter_map(first).collect();
    [all, main].into_iter()
}

/// Sounds that are written without a vowel, and abbreviations of one word.
const SOUNDS: &str =
    " brr brrr grr grrr psst pfft phew sh shh shhh shhhh st str th tsk wh whsh mth mths ch chs ths ";

/// Whether capitals have to be said one by one: without a vowel they are no word, as GHQ and CH6 in a code. `code`
/// tells that a digit follows, `from` how many letters of the word stand before.
pub(crate) fn said_singly(letters: &[Symbol], code: bool, from: usize) -> bool {
    let [first, ..] = letters else { return false };
    // The hour of kWh, and the surgery of MCh; the Ed of BEd is said as a word.
    if from > 0 && letters.len() == 2 && first.capital == 1 && letters[1].ch == 'h' && !letters[1].upper {
        return true;
    }
    if letters.len() > LONGEST_SINGLY || letters.iter().any(|s| s.kind != Kind::Letter || !s.plain()) {
        return false;
    }
    let vowel = letters.iter().any(|s| "aeiouy".contains(s.ch));
    let capitals = from == 0 && first.capital == 2 && letters.iter().all(|s| s.upper);
    let word = || letters.iter().map(|s| s.ch).collect::<String>();
    if capitals && !vowel {
        let sound = || SOUNDS.contains(&format!(" {} ", word()));
        return letters.len() > if code { 1 } else { 2 } && (code || !sound());
    }
    // Watt hours.
    from == 0 && letters.len() == 3 && matches!(first.ch, 'k' | 'm' | 'g' | 't') && word().ends_with("wh")
}

/// No abbreviation is longer.
const LONGEST_SINGLY: usize = 6;

#[cfg(test)]
mod tests {
    use super::{explained, list};

    #[test]
    fn the_list_says_what_each_stands_for() {
        for row in include_str!("acronyms.txt").lines().filter(|line| !line.starts_with('#')) {
            let [letters, word, meaning] = row.split('\t').collect::<Vec<_>>()[..] else { panic!("{row}") };
            assert!(
                letters.bytes().all(|b| b.is_ascii_lowercase())
                    && matches!(word, "" | "word")
                    && meaning.len() > 2
            );
        }
        assert!(list().len() > 30);
    }

    // Expansions as given in the examples of 10.1.3 and 10.12.1; FORTRAN and CANDU are said as words there.
    #[test]
    fn from_the_text() {
        assert_eq!(explained("IT (Information Technology)"), ["it"]);
        assert_eq!(
            explained("the World Health Organisation (WHO) and POW (prisoner of war)"),
            ["pow", "who"]
        );
        assert!(
            explained("CANDU (Canada Deuterium Uranium), IT (it is) and (see above) AND (so on)").is_empty()
        );
    }
}
