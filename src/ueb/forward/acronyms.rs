//! Abbreviations whose letters are said one by one (10.1.3, 10.12.1): those that the text itself explains, and those
//! that cannot be said as a word.

use super::symbols::{Kind, Symbol};

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

/// Zones of time that have a vowel (common practice).
const ZONES: &str = " acst aedt aest akst awst cest edt est idt ist sast ";

/// Whether capitals have to be said one by one: without a vowel they are no word, as GHQ and CH6 in a code. `code`
/// tells that a digit follows, `from` how many letters of the word stand before.
pub(crate) fn said_singly(letters: &[Symbol], code: bool, from: usize) -> bool {
    let [first, ..] = letters else { return false };
    // The hour of kWh, and the surgery of MCh.
    if from > 0 && letters.len() == 2 && first.capital == 1 && letters[1].ch == 'h' && !letters[1].upper {
        return true;
    }
    if letters.len() > LONGEST_SINGLY || letters.iter().any(|s| s.kind != Kind::Letter || !s.plain()) {
        return false;
    }
    let vowel = letters.iter().any(|s| "aeiouy".contains(s.ch));
    let capitals = from == 0 && first.capital == 2 && letters.iter().all(|s| s.upper);
    let word = || letters.iter().map(|s| s.ch).collect::<String>();
    let listed = |list: &str| list.contains(&format!(" {} ", word()));
    if capitals && vowel && listed(ZONES) {
        return true;
    }
    if capitals && !vowel {
        return letters.len() > if code { 1 } else { 2 } && (code || !listed(SOUNDS));
    }
    // Watt hours.
    from == 0 && letters.len() == 3 && matches!(first.ch, 'k' | 'm' | 'g' | 't') && word().ends_with("wh")
}

/// No abbreviation is longer.
const LONGEST_SINGLY: usize = 6;

#[cfg(test)]
mod tests {
    use super::explained;

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
