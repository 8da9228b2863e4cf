//! Marking over lines: words divided at a line's end, lines skipped and written twice, a mode lost with all that
//! follows from it. Sections are those of *The Rules of Unified English Braille*, Second Edition 2013; the print is
//! invented.

use cellwright::cell::{self, Cell};
use cellwright::marking::{Expected, Finding, Kind, mark};
use cellwright::ueb::{self, Options};

fn lines(braille: &str) -> Vec<Vec<Cell>> {
    braille.split('\n').map(|line| cell::from_ascii(line).unwrap()).collect()
}

fn found(print: &str, braille: &str) -> Vec<Finding> {
    mark(&Expected::from_print(print, &Options::default()), &lines(braille)).findings
}

fn kinds(print: &str, braille: &str) -> Vec<&'static str> {
    found(print, braille).iter().map(|finding| finding.kind.name()).collect()
}

const LETTER: &str = "The boat left the quay at noon with forty people on board and a dog that belonged to nobody. \
    Nobody saw it go ashore on the other side, but the cook was sure that he had heard it under the stairs. \
    In the evening it lay in front of the galley again, wet and pleased with itself, and would not say where it had \
    been. The captain wrote it into the log as a passenger without a ticket, and there it has stayed ever since.";

fn laid_out(print: &str) -> Vec<Vec<Cell>> {
    let mut out: Vec<Vec<Cell>> = vec![Vec::new()];
    for word in ueb::transcribe(print, &Options::default()).split(|cell| cell.is_blank()) {
        if out.last().unwrap().len() + word.len() >= 38 {
            out.push(Vec::new());
        }
        let line = out.last_mut().unwrap();
        if !line.is_empty() {
            line.push(Cell::BLANK);
        }
        line.extend_from_slice(word);
    }
    out
}

/// As many blank cells as print has spaces are as right as one, however many such places there are (3.23).
#[test]
fn wide_spaces_of_print_are_no_mistake() {
    for print in ["a  a a  a", "quay  pier  quay  pier", "the  the    the", "a  –  a  –  a"] {
        let expected = Expected::from_print(print, &Options::default());
        let wide = ueb::transcribe(print, &Options::default());
        assert!(wide.windows(2).any(|two| two.iter().all(|cell| cell.is_blank())), "{print}");
        assert_eq!(mark(&expected, std::slice::from_ref(&wide)).findings, [], "{print}");
        assert_eq!(mark(&expected, std::slice::from_ref(&expected.cells)).findings, [], "{print}");
    }
    // One more than print has is one too many, at each place.
    assert_eq!(kinds("a  a a  a", "a  a a   a"), ["spacing"]);
    assert_eq!(kinds("a  a a  a", "a   a a  a"), ["spacing"]);
    assert_eq!(kinds("a  a a  a", "a  a  a  a"), ["spacing"]);
    assert_eq!(kinds("cat cat cat", "cat  cat  cat"), ["spacing", "spacing"]);
}

/// A key's own blanks are right, also where no print tells of them (a lone numeric indicator, dot 5 in a number).
#[test]
fn a_key_is_right_by_itself() {
    for key in ["a  a\na  a", "#\ne\"  e", "a  #  #  a", "  a  a\n\n  a", "#a  #b  #c  ;d"] {
        for contracted in [true, false] {
            let key = lines(key);
            assert_eq!(mark(&Expected::from_key(&key, contracted), &key).findings, []);
        }
    }
}

#[test]
fn a_line_skipped_or_written_twice_is_one_finding() {
    let right = laid_out(LETTER);
    let expected = Expected::from_print(LETTER, &Options::default());
    assert!(right.len() > 8);
    assert_eq!(mark(&expected, &right).findings, []);
    for line in 0..right.len() {
        let mut less = right.clone();
        less.remove(line);
        let findings = mark(&expected, &less).findings;
        assert!(
            matches!(findings.as_slice(), [one] if one.kind == Kind::LeftOut),
            "line {line}: {findings:?}"
        );
        assert!(findings[0].expected.len().abs_diff(right[line].len()) <= 1);
        let mut more = right.clone();
        more.insert(line, right[line].clone());
        let findings = mark(&expected, &more).findings;
        assert!(matches!(findings.as_slice(), [one] if one.kind == Kind::Added), "line {line}: {findings:?}");
        // A mistake on the line after is still found as what it is.
        if line + 1 < right.len() {
            let mut both = less.clone();
            let last =
                both[line].iter().rposition(|cell| cell.mirror() != *cell && !cell.is_prefix()).unwrap();
            both[line][last] = both[line][last].mirror();
            let findings = mark(&expected, &both).findings;
            assert!(findings.len() == 2 && findings[0].kind == Kind::LeftOut, "line {line}: {findings:?}");
        }
    }
}

/// Words divided between lines (10.13), with the contractions of their halves.
#[test]
fn divided_words_are_no_mistake() {
    assert_eq!(kinds("the manager came", "! man-\nag] came"), [""; 0]);
    assert_eq!(kinds("all the rotations", "all ! rota-\ntions"), [""; 0]);
    assert_eq!(kinds("great confusion", "grt 3fu-\nsion"), [""; 0]);
    // Numbers go on behind dot 5 (6.10).
    assert_eq!(kinds("about 100,000 people", "ab #ajj1\"\njjj p"), [""; 0]);
    // A hyphen of print at a line's end stays.
    assert_eq!(kinds("a well-known dog", "a well-\n\"kn dog"), [""; 0]);
    // Each part has its own syllables (10.13.1; the syllables as dictionaries of English have them, from memory); where
    // dictionaries differ the place is the writer's, with the right forms of both parts.
    for (print, at, asked) in [
        ("every", 2, Some("your-call")),
        ("mother", 4, None),
        ("danger", 3, None),
        ("father", 2, None),
        ("cooperate", 2, None),
        ("gather", 2, Some("your-call")),
        ("river", 2, Some("your-call")),
        // Within the letters of one sound, and of one syllable, no dictionary divides.
        ("mother", 3, Some("spacing")),
        ("danger", 4, Some("spacing")),
        ("third", 3, Some("spacing")),
    ] {
        let halves = ueb::division::halves(print, at).unwrap();
        let braille = format!("! {}\n{} x", cell::to_ascii(&halves.first), cell::to_ascii(&halves.second));
        let asked: Vec<&str> = asked.into_iter().collect();
        assert_eq!(kinds(&format!("the {print} it"), &braille), asked, "{braille}");
    }
    // The same lines broken elsewhere.
    let right = laid_out(LETTER);
    let cells = right.join(&Cell::BLANK);
    let other: Vec<Vec<Cell>> = cells.split(|cell| cell.is_blank()).map(<[Cell]>::to_vec).collect();
    assert_eq!(mark(&Expected::from_print(LETTER, &Options::default()), &other).findings, []);
    // A mistake in a divided word is found in its line.
    let findings = found("the manager came", "! man-\nagr came");
    assert_eq!(findings.len(), 1);
    assert_eq!((findings[0].written.line, findings[0].written.from), (1, 2));
    // Broken without a hyphen.
    assert_eq!(kinds("the manager came", "! man\nag] came"), ["spacing"]);
}

/// 6.1 and 6.3: numeric mode ends at a space and at a hyphen; 6.5: a letter a to j behind a digit needs a grade 1
/// indicator, which nobody misses where the number was not seen as one.
#[test]
fn a_lost_number_is_one_finding() {
    assert_eq!(kinds("on 10-12 May", "on #aj-ab ,may"), ["missing-indicator"]);
    assert_eq!(kinds("rooms 5a and 5b", "rooms ea & #e;b"), ["missing-indicator"]);
    assert_eq!(kinds("3 or 4 of them", "#c or d ( !m"), ["missing-indicator"]);
    assert_eq!(kinds("the 1st of May", "! a/ ( ,may"), ["missing-indicator"]);
    assert_eq!(kinds("on 10-12 May", "on #aj-#ab ,may"), [""; 0]);
}

/// 8.4 to 8.6: a word or a passage in capitals, with its terminator.
#[test]
fn a_lost_passage_is_one_finding() {
    let print = "MIND THE GAP AT THE Q he said";
    let own = cell::to_ascii(&ueb::transcribe(print, &Options::default()));
    assert!(own.starts_with(",,,m") && own.contains(",'"), "{own}");
    let without = own.replace(",,,", "").replace(",'", "");
    assert_eq!(kinds(print, &without), ["missing-indicator"]);
    assert_eq!(kinds(print, &own.replace(",'", "")), ["missing-indicator"]);
    // Each word by itself instead of the passage.
    let words: String = own.replace(",,,", ",,").replace(",'", "").replacen(" ", " ,,", 4);
    assert_eq!(kinds(print, &words).first(), Some(&"wrong-indicator"));
    assert_eq!(kinds(print, &words).len(), 1);
    assert_eq!(kinds("a TVset here", "a ,,tvset \"h"), ["missing-indicator"]);
}

/// A run of words in the wrong script direction is a mirror, not a dozen findings.
#[test]
fn a_word_written_from_the_wrong_side_is_one_finding() {
    let mirrored: Vec<Cell> = cell::from_ascii("felt").unwrap().iter().map(|cell| cell.mirror()).collect();
    let written = [cell::from_ascii("he ").unwrap(), mirrored].concat();
    let findings = mark(&Expected::from_print("he felt", &Options::default()), &[written]).findings;
    assert!(findings.iter().all(|one| one.kind == Kind::Mirrored), "{findings:?}");
    assert!(findings.len() <= 2);
}
